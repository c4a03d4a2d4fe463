/**
 * The JSON at an address. A browser waits for minutes on a connection that has died without a word, as when the radio
 * goes: nothing of ours may hang on that.
 * @throws (rejects) when there is no whole answer within `withinMs`, or it is a failure
 */
export async function fetchJson(address: string, withinMs: number): Promise<unknown> {
  const abort = new AbortController();
  const timer = setTimeout(() => abort.abort(), withinMs);
  try {
    const answer = await fetch(address, { signal: abort.signal });
    if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
    return await answer.json();
  } finally {
    clearTimeout(timer);
  }
}
