/**
 * Lets whoever reads the output stop early, as `head` does: what nobody reads any more is dropped without a word, and the
 * command goes on, so that files it was asked for are still written and its exit code stays its own.
 */
export function leaveClosedPipes(): void {
  for (const stream of [process.stdout, process.stderr]) stream.on('error', passOverClosedPipe);
}

function passOverClosedPipe(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EPIPE') throw error;
}
