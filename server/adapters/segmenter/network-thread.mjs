/**
 * Thread of one network: tells the tiles that come as messages (`TileTask` of network-thread.ts), in their order, and hands each
 * room back. Plain JavaScript, since a thread that can read TypeScript takes twice the time and three times the memory to start.
 */
import { parentPort, workerData } from 'node:worker_threads';
import ort from 'onnxruntime-node';

const { model, channels, options } = workerData;
const opening = ort.InferenceSession.create(model, options);

parentPort.on('message', async ({ room, width, height, condition }) => {
  const session = await opening;
  const pixels = width * height;
  // Half the size with four pixels a place: see `foldedTiles`.
  const answer = [1, channels, height / 2, width / 2];
  await session.run(
    {
      lab: new ort.Tensor('float32', room.subarray(0, 3 * pixels), [1, 3, height, width]),
      condition: new ort.Tensor('float32', condition, [1, 2]),
    },
    { logits: new ort.Tensor('float32', room.subarray(3 * pixels), answer) },
  );
  parentPort.postMessage(room, [room.buffer]);
});
