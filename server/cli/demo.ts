import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Command } from 'commander';
import { z } from 'zod';
import { machineSchema, settingsSchema, surfacePoint } from '../domain/index.ts';
import type { Zone } from '../domain/index.ts';
import { assessPhotos } from '../services/assess-photos.ts';
import { drawOverlay } from '../services/draw-overlay.ts';
import type { Tools } from '../wiring.ts';
import { assessmentWords } from './assessment-words.ts';
import { valueOrFault } from './command-result.ts';

const DEMO = new URL('../../fixtures/demo/', import.meta.url);

const sideSchema = z.object({ file: z.string(), zoneMm: z.array(z.tuple([z.number(), z.number()])) });
const demoSchema = z.object({
  machine: machineSchema,
  scenes: z.array(
    z.object({ name: z.string(), about: z.string(), settings: settingsSchema, before: sideSchema, after: sideSchema }),
  ),
});

/** Assesses the invented pairs of the workboat Teasel and tells the results in words. */
export function addDemoCommand(program: Command, tools: Tools): void {
  program
    .command('demo')
    .description('assess the invented photo pairs of the workboat Teasel and tell the results in words')
    .option('--out <folder>', 'folder for the overlay pictures', 'out')
    .action(async ({ out }: { out: string }) => {
      const demo = demoSchema.parse(JSON.parse(await readFile(new URL('demo.json', DEMO), 'utf8')));
      await mkdir(out, { recursive: true });
      for (const scene of demo.scenes) {
        const reading = valueOrFault(
          await assessPhotos(
            {
              before: await readFile(new URL(scene.before.file, DEMO)),
              after: await readFile(new URL(scene.after.file, DEMO)),
              zone: zoneOf(scene.after.zoneMm),
              zoneBefore: zoneOf(scene.before.zoneMm),
              cardValues: null,
              settings: { settings: scene.settings, machine: demo.machine },
              target: 'Sa 2 1/2',
            },
            tools,
          ),
        );
        if (reading === null) return;
        const overlay = join(out, `${scene.name}-overlay.png`);
        await writeFile(overlay, await drawOverlay('After', reading, tools.painter));
        process.stdout.write(
          `${scene.about} (Invented.)\n\n${assessmentWords(reading.assessment)}\nOverlay: ${overlay}\n\n`,
        );
      }
      process.stdout.write(`${CLOSING}\n`);
    });
}

const zoneOf = (polygon: readonly (readonly [number, number])[]): Zone => ({
  space: 'surface',
  polygon: polygon.map(([x, y]) => surfacePoint(x, y)),
});

const CLOSING = `A photo sees neither profile nor salts, and these grades are written for blasting: a scrape test and an inspector decide.
The laser is class 4, its fume is harmful, and the work is hot work: follow local codes and your laser safety officer.`;
