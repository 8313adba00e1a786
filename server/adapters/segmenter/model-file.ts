import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import { failure, success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';

const registrySchema = z.object({
  default: z.string().min(1),
  models: z.record(z.string(), z.object({ file: z.string().min(1), sha256: z.string().regex(/^[0-9a-f]{64}$/) })),
});

export interface ModelFile {
  /** As in the registry: name/version. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * Reads the default model of a models folder. A file that is missing, or is not the one the registry was written for, is
 * refused: a network that nobody evaluated must not speak.
 */
export async function readModelFile(modelsFolder: URL): Promise<Outcome<ModelFile>> {
  let name = 'registry.json';
  try {
    const registry = registrySchema.parse(JSON.parse(await readFile(new URL('registry.json', modelsFolder), 'utf8')));
    name = registry.default;
    const entry = registry.models[name] as { file: string; sha256: string } | undefined;
    if (entry === undefined) return failure({ code: 'model-missing', model: name });
    const bytes = await readFile(new URL(entry.file, modelsFolder));
    const found = createHash('sha256').update(bytes).digest('hex');
    if (found !== entry.sha256) return failure({ code: 'model-altered', model: name, expected: entry.sha256, found });
    return success({ name, bytes });
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    if (isMissing || error instanceof SyntaxError || error instanceof z.ZodError) {
      return failure({ code: 'model-missing', model: name });
    }
    throw error;
  }
}
