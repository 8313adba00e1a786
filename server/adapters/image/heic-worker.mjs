/**
 * Decodes one HEIC on a thread of its own: the WebAssembly decoder never gives memory back, blocks its thread for
 * seconds, prints to the console and may abort; all of that ends with the thread.
 */
import { parentPort, workerData } from 'node:worker_threads';
import decode from 'heic-decode';

const { file, pictureIndex } = workerData;
const pictures = await decode.all({ buffer: file });
const picture = pictures[pictureIndex];
if (picture === undefined) throw new Error(`picture ${pictureIndex} of ${pictures.length} is missing`);
const { width, height, data } = await picture.decode();
parentPort.postMessage({ width, height, data }, [data.buffer]);
