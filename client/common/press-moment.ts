/** An event's own time is believed when it is this close to now, ms; some old browsers count it from elsewhere. */
const BELIEVED_MS = 200;

/** When a pointer or key event happened, on the page's own clock (ms, as performance.now()). */
export const pressMoment = (event: Pick<Event, 'timeStamp'>, pageNowMs: number): number =>
  Math.abs(pageNowMs - event.timeStamp) <= BELIEVED_MS ? event.timeStamp : pageNowMs;
