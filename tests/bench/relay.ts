import { type WebSocket, WebSocketServer } from 'ws';

/**
 * The floor to compare with: the traffic of one edit and nothing else. Every client has a document and a feed socket; a message
 * on a document socket goes on to all other document sockets, then a text of the length it asks for goes to all feed sockets.
 * No check, no disk, no rules. Prints its port.
 */
const server = new WebSocketServer({ port: 0, host: '127.0.0.1', perMessageDeflate: false });
const documents = new Set<WebSocket>();
const feeds = new Set<WebSocket>();

server.on('connection', (socket, request) => {
  const own = request.url === '/feed' ? feeds : documents;
  own.add(socket);
  socket.on('close', () => own.delete(socket));
  socket.on('message', (data: Buffer) => {
    for (const other of documents) if (other !== socket) other.send(data);
    const delta = `42["delta",{"seq":${data.readUInt32LE(0)},"pad":"`;
    const text = `${delta}${'x'.repeat(Math.max(0, data.readUInt32LE(4) - delta.length - 3))}"}]`;
    for (const feed of feeds) feed.send(text);
  });
});
server.on('listening', () => {
  const address = server.address();
  console.log(typeof address === 'object' && address ? address.port : 0);
});
