// Web sockets of this site: opened, asked whether they still carry anything, and given up.

function lineTo(path) {
  const url = new URL(path, location.href);
  url.protocol = location.protocol === "https:" ? "wss:" : "ws:";
  return new WebSocket(url);
}

// A line that slept looks open and carries nothing: whether a question brings back nothing at all.
async function deaf(socket, question, heard) {
  const before = heard();
  socket.send(question);
  await new Promise((done) => setTimeout(done, 5000));
  return heard() === before;
}

function giveUp(socket) {
  socket.onclose = socket.onmessage = null;
  socket.close();
}
