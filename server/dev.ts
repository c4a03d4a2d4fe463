import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { createServer, type Plugin } from 'vite';
import { readFlags } from './flags.ts';
import { PAGE_NAMES, VITE_CONFIG } from './pages.ts';

/** Where the pages are served from while they are being worked on. */
const PAGES_PORT = 4051;

const SERVER = resolve(import.meta.dirname, 'main.ts');

/** `/wall` opens the wall as it does in the built server; Vite itself wants `/wall/`. */
const pageAddresses: Plugin = {
  name: 'farwall-page-addresses',
  configureServer: ({ middlewares }) => {
    middlewares.use((request, response, next) => {
      const [path, query] = (request.url ?? '').split('?');
      const page = [...PAGE_NAMES, 'pair'].find((name) => path === `/${name}`);
      if (!page) return next();
      response.writeHead(302, { location: `/${page}/${query === undefined ? '' : `?${query}`}` }).end();
    });
  },
};

const args = process.argv.slice(2);
const flags = readFlags(args, process.env);
if (flags.kind !== 'options') {
  console.error(flags.kind === 'help' ? flags.text : flags.message);
  process.exit(flags.kind === 'help' ? 0 : 1);
}

const target = `http://127.0.0.1:${flags.options.port}`;
const pages = await createServer({
  configFile: VITE_CONFIG,
  appType: 'mpa',
  plugins: [pageAddresses],
  server: {
    port: PAGES_PORT,
    strictPort: true,
    // With the host that the page was asked of: the server takes changes from its own pages only.
    proxy: { '/api': { target }, '/health': { target }, '/socket.io': { target, ws: true } },
  },
});
await pages.listen();

const server = spawn(process.execPath, ['--watch', SERVER, '--no-build', ...args], { stdio: 'inherit' });

const close = async (): Promise<void> => {
  server.kill();
  await pages.close();
  process.exit(0);
};
process.on('SIGINT', close);
process.on('SIGTERM', close);

for (const page of PAGE_NAMES) console.log(`  ${page}  http://localhost:${PAGES_PORT}/${page} (reloads as you write)`);
