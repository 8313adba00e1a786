import { dirname, resolve } from 'node:path';
import type { Command } from 'commander';
import { failure, gaugePhotosSchema, success } from '../domain/index.ts';
import type { GaugePhotos, GaugeResult, Outcome } from '../domain/index.ts';
import { studyGauge } from '../evidence/gauge/study-gauge.ts';
import { measureGaugePhotos } from '../services/measure-gauge-photos.ts';
import type { SegmenterName, Tools } from '../wiring.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, writeJson } from './files.ts';
import { segmenterOption, withSegmenter } from './segmenter-option.ts';
import { readZone } from './zone-option.ts';

interface GaugeOptions {
  readonly in: string;
  readonly out?: string;
  readonly segmenter: SegmenterName;
}

const HELP = `
Every operator photographs every zone equally often, twice at least, from another place each time:
  {"schema": "bareplate/gauge-photos@1", "quantity": "residueFraction", "toleranceWidth": 0.1, "photos": [
    {"operator": "Finch", "zone": "anchor locker 1", "photo": "finch-1-a.jpg", "outline": "mm:0,120,100,220"}, ...]}
Measured elsewhere: {"schema": "bareplate/gauge-study@1", "quantity", "toleranceWidth", "measurements": [
    {"operator": "Finch", "zone": "anchor locker 1", "value": 0.042}, ...]}
Example: npx bareplate gauge --in teasel-gauge.json`;

export function addGaugeCommand(program: Command, tools: Tools): void {
  program
    .command('gauge')
    .description(
      'how much of the spread of a measurement comes from the measuring: operators x zones x repeats, by analysis of variance',
    )
    .requiredOption('--in <file.json>', 'study: photos taken for it, or values (see below)')
    .option('--out <file>', 'result to write; "-" or none is the screen')
    .addOption(segmenterOption())
    .addHelpText('after', HELP)
    .action(async (options: GaugeOptions) => {
      const file = valueOrFault(await readInput(options.in, 'gauge study'));
      if (file === null) return;
      const result = valueOrFault(await study(parseJson(file), options, tools));
      if (result !== null) await writeJson(result, options.out);
    });
}

async function study(json: unknown, options: GaugeOptions, tools: Tools): Promise<Outcome<GaugeResult>> {
  if ((json as { schema?: unknown } | undefined)?.schema !== 'bareplate/gauge-photos@1') return studyGauge(json);
  const parsed = gaugePhotosSchema.safeParse(json);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const detail = `is refused: ${issue.message}`;
    return failure({ code: 'gauge-study-malformed', path: issue.path.join('.'), detail });
  }
  return studyPhotos(parsed.data, options, tools);
}

async function studyPhotos(
  photos: GaugePhotos,
  options: GaugeOptions,
  tools: Tools,
): Promise<Outcome<GaugeResult & { measurements: unknown }>> {
  const folder = dirname(options.in);
  const measured = await measureGaugePhotos(photos, {
    ...withSegmenter(tools, options.segmenter),
    readPhoto: (name) => readInput(resolve(folder, name), 'photo'),
    readZone,
  });
  if (!measured.ok) return measured;
  const { study: values, withoutCard } = measured.value;
  const result = studyGauge(values);
  if (!result.ok) return result;
  const remarks = withoutCard.map((name) => `No card was found in ${name}: its colours are as the phone made them.`);
  return success({
    ...result.value,
    remarks: [...result.value.remarks, ...remarks],
    measurements: values.measurements,
  });
}

function parseJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return undefined;
  }
}
