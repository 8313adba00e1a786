import type { IncomingMessage, ServerResponse } from 'node:http';

/** Speaks the resumable upload protocol with a client that is signed in. */
export interface UploadDoor {
  handle(request: IncomingMessage, response: ServerResponse, personId: string): Promise<void>;
}
