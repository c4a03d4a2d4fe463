import { createServer, type RequestListener } from 'node:http';
import { expect, onTestFinished, test } from 'vitest';
import { fetchJson } from '../../client/common/fetch-json.ts';

/** A server on a free port. @returns its address */
async function serve(answer: RequestListener): Promise<string> {
  const server = createServer(answer);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('it does not listen');
  return `http://127.0.0.1:${address.port}/`;
}

test('gives what the server answers', async () => {
  expect(await fetchJson(await serve((_asked, answer) => void answer.end('{"lane":1}')), 10_000)).toEqual({ lane: 1 });
});

test('fails when the server answers with a failure', async () => {
  const address = await serve((_asked, answer) => void answer.writeHead(404).end('{}'));
  await expect(fetchJson(address, 10_000)).rejects.toThrow('404');
});

test('gives up a connection on which nothing comes', async () => {
  await expect(fetchJson(await serve(() => {}), 20)).rejects.toThrow('aborted');
});

test('gives up an answer that stops in the middle', async () => {
  const address = await serve((_asked, answer) => void answer.writeHead(200).write('{"lane":'));
  await expect(fetchJson(address, 200)).rejects.toThrow('aborted');
});
