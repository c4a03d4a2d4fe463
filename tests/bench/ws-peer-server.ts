import { type RawData, WebSocketServer } from 'ws';
import { Database } from '../../server/store/database.ts';

/**
 * `node ws-peer-server.ts [DATABASE]`: what one client sends, all get, as in the example of ws's own documentation.
 * With a database it is appended there first, as durably as Farwall keeps its events. Prints its address.
 */

function appendingTo(file: string): (message: RawData) => void {
  const database = new Database(file);
  database.exec('CREATE TABLE messages (message TEXT NOT NULL) STRICT');
  const insert = database.prepare('INSERT INTO messages (message) VALUES (?)');
  return (message) => void insert.run(String(message));
}

const [file] = process.argv.slice(2);
const keep = file === undefined ? () => {} : appendingTo(file);

const server = new WebSocketServer({ host: '127.0.0.1', port: 0, perMessageDeflate: false });
server.on('connection', (socket) => {
  socket.on('message', (message, isBinary) => {
    keep(message);
    for (const client of server.clients) client.send(message, { binary: isBinary });
  });
});
server.on('listening', () => {
  const address = server.address();
  if (typeof address === 'object' && address) console.log(`ws://127.0.0.1:${address.port}`);
});
