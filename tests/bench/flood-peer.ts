import { WebSocket } from 'ws';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';

/**
 * A process that floods a server, as a page gone wild or somebody at the pool with a script could: messages from one
 * socket as fast as it is told to, and as many sockets as it is told to, opened again as soon as they are closed.
 */

const [, , url = '', origin = '', cookie = '', messagesASecond = '0', sockets = '0'] = process.argv;

const EVERY_MS = 10;
const AGAIN_MS = 100;
/** What is not taken off its hands any more is given up, or this process would have all memory. */
const MOST_BUFFERED = 64 * 1024 * 1024;
/** As Engine.IO 4 and Socket.IO 5 write them. */
const CONNECT = '40';
const HELLO = `420["hello",{"protocols":[${PROTOCOL}],"role":"wall","device":"${'f'.repeat(32)}"}]`;
const STATUS = '421["status",{"syncBoundMs":1,"width":1920,"height":1080}]';
const SYNC = '422["sync",{"askedAt":0}]';
/** By turns, the dearest first. */
const MESSAGES = [HELLO, STATUS, SYNC, SYNC];
const PING = '2';
const PONG = '3';

/** Opens one, and opens it again whenever it is gone. @param opened hears of each that is let in */
function keepOpen(localAddress: string, opened: (socket: WebSocket) => void): void {
  const socket = new WebSocket(url, { headers: { origin, cookie }, localAddress, perMessageDeflate: false });
  socket.on('open', () => {
    socket.send(CONNECT);
    opened(socket);
  });
  socket.on('message', (data) => String(data) === PING && socket.send(PONG));
  socket.on('error', () => {});
  socket.on('close', () => setTimeout(() => keepOpen(localAddress, opened), AGAIN_MS));
}

let flooding: WebSocket | null = null;
keepOpen('127.0.0.90', (socket) => {
  flooding = socket;
});
const aTime = (Number(messagesASecond) * EVERY_MS) / 1000;
setInterval(() => {
  if (flooding?.readyState !== WebSocket.OPEN || flooding.bufferedAmount > MOST_BUFFERED) return;
  for (let sent = 0; sent < aTime; sent += 1) flooding.send(MESSAGES[sent % MESSAGES.length] ?? SYNC);
}, EVERY_MS);

for (let nth = 0; nth < Number(sockets); nth += 1) keepOpen('127.0.0.91', () => {});
console.log('flooding');
