import { WebSocketServer } from 'ws';

/** The floor to compare with: sends every message on to all others and does nothing else. Prints its port. */
const server = new WebSocketServer({ port: 0, host: '127.0.0.1', perMessageDeflate: false });
server.on('connection', (socket) => {
  socket.on('message', (data, isBinary) => {
    for (const other of server.clients)
      if (other !== socket && other.readyState === other.OPEN) other.send(data, { binary: isBinary });
  });
});
server.on('listening', () => {
  const address = server.address();
  console.log(typeof address === 'object' && address ? address.port : 0);
});
