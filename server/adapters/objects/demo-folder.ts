import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import { machineSchema, settingsSchema } from '../../domain/index.ts';
import type { DemoPhoto, DemoSource } from '../../services/offer-demo.ts';

const photoSchema = z.object({
  file: z.string().regex(/^[\w-]+\.jpg$/),
  zoneMm: z.array(z.tuple([z.number(), z.number()])).min(3),
});
const demoSchema = z.object({
  machine: machineSchema,
  scenes: z.array(
    z.object({
      name: z.string(),
      about: z.string(),
      settings: settingsSchema,
      before: photoSchema,
      after: photoSchema,
    }),
  ),
});

/** The demo pairs that come with the program. @param folder URL that ends in a slash */
export function demoFolder(folder: URL): DemoSource {
  const photo = async ({ file, zoneMm }: z.output<typeof photoSchema>): Promise<DemoPhoto> => ({
    fileName: file,
    bytes: await readFile(new URL(file, folder)),
    polygonMm: zoneMm,
  });
  return {
    async read() {
      const { machine, scenes } = demoSchema.parse(JSON.parse(await readFile(new URL('demo.json', folder), 'utf8')));
      return {
        machine,
        scenes: await Promise.all(
          scenes.map(async ({ before, after, ...scene }) => ({
            ...scene,
            before: await photo(before),
            after: await photo(after),
          })),
        ),
      };
    },
  };
}
