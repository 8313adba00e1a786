import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  dosePictureSchema,
  quoteSchema,
  type TrialPlan,
  trialPlanSchema,
  trialResultSchema,
} from '../../server/domain/index.ts';
import { asPng, platePhoto, RUST, STEEL } from '../support/plate-photo.ts';
import { LINE_MACHINE } from '../support/line-machine.ts';
import { runCommand } from '../support/run-command.ts';

const TARGET = { residueFractionMax: 0.05 };
let folder = '';
const path = (name: string): string => join(folder, name);
async function write(name: string, content: unknown): Promise<string> {
  await writeFile(path(name), typeof content === 'string' ? content : JSON.stringify(content));
  return path(name);
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-trial-'));
});
afterAll(() => rm(folder, { recursive: true }));

describe('a trial on the command line', () => {
  /** Four patches on a small coupon: what the plate photo shows round the card. */
  const request = {
    name: 'Teasel anchor locker',
    machine: LINE_MACHINE,
    surface: 'light rust',
    target: TARGET,
    coupon: { widthMm: 110, heightMm: 100 },
    patches: 4,
  };
  let plan: TrialPlan;

  it('is planned with a sheet to print', async () => {
    const words = [
      '--in',
      await write('trial.json', request),
      '--sheet',
      path('sheet.pdf'),
      '--out',
      path('plan.json'),
    ];
    expect((await runCommand('plan-trial', ...words)).exitCode).toBe(0);
    plan = trialPlanSchema.parse(JSON.parse(await readFile(path('plan.json'), 'utf8')));
    expect(plan.patches.map(({ name }) => name)).toEqual(['A1', 'A2', 'B1', 'B2']);
    expect((await readFile(path('sheet.pdf'))).subarray(0, 5).toString()).toBe('%PDF-');
  });

  it('is read from the photo of the cleaned coupon, patch by patch', async () => {
    // The coupon lies to the right of the card: its corner at (160, 0). Of the four patches the gentlest is still rusty.
    const [x, y] = [160, 0];
    const [rusty] = plan.patches;
    const photo = await platePhoto({
      plate: (px, py) => {
        const [u, v] = [px - x - rusty.leftMm, py - y - rusty.topMm];
        return u >= 0 && v >= 0 && u <= rusty.widthMm && v <= rusty.heightMm ? RUST : STEEL;
      },
    });
    await writeFile(path('coupon.png'), await asPng(photo));
    const { exitCode, stdout, stderr } = await runCommand(
      ...['read-trial', '--plan', path('plan.json'), '--photo', path('coupon.png')],
      ...['--origin', `${x},${y}`, '--segmenter', 'colour'],
    );
    expect(stderr).toBe('');
    expect(exitCode).toBe(0);
    const result = trialResultSchema.parse(JSON.parse(stdout));
    const [first, ...others] = result.patches;
    expect(first.residue.value).toBeGreaterThan(0.9);
    for (const { residue } of others) expect(residue.value).toBeLessThan(0.1);
  });

  it('is read from residues that are known already', async () => {
    const readings = plan.patches.map(({ name }, index) => {
      const value = [0.6, 0.2, 0.04, 0.01][index];
      return { name, residue: { value, low: value * 0.8, high: value * 1.2, coverage: 0.95 } };
    });
    const { stdout } = await runCommand(
      ...['read-trial', '--plan', path('plan.json'), '--readings', await write('readings.json', readings)],
    );
    expect(trialResultSchema.parse(JSON.parse(stdout)).fastest?.probabilityMeetsTarget).toBeGreaterThanOrEqual(0.9);
  });

  it.each([
    ['a plan that is no JSON', 'plan-trial', '{"machine":'],
    ['a trial without a coupon', 'plan-trial', JSON.stringify({ machine: LINE_MACHINE, target: TARGET })],
    ['one patch', 'plan-trial', JSON.stringify({ ...request, patches: 1 })],
  ])('is refused: %s', async (_, command, text) => {
    const { exitCode, stdout } = await runCommand(command, '--in', await write('bad.json', text));
    expect(exitCode).toBe(3);
    expect(JSON.parse(stdout)).toMatchObject({ fault: { code: 'trial-malformed' } });
  });

  it('asks for one source of readings', async () => {
    expect((await runCommand('read-trial', '--plan', path('plan.json'))).exitCode).toBe(2);
  });
});

describe('dose-picture and quote on the command line', () => {
  const settings = { powerW: 1500, scanWidthMm: 150, scanFrequencyHz: 25, travelSpeedMmPerS: 40, passes: 1 };

  it('draws what settings lay on the metal, in true proportion', async () => {
    const file = await write('dose.json', { settings, machine: LINE_MACHINE, surface: 'light rust', lengthMm: 30 });
    for (const show of ['residue', 'energy']) {
      const { exitCode, stdout } = await runCommand(
        'dose-picture',
        '--in',
        file,
        '--png',
        path('d.png'),
        '--show',
        show,
      );
      expect(exitCode).toBe(0);
      expect(dosePictureSchema.parse(JSON.parse(stdout)).linePitchMm).toBeCloseTo(0.8, 9);
      const { width, height } = await sharp(path('d.png')).metadata();
      expect(width / height).toBeCloseTo(150 / 30, 1);
    }
  });

  it('refuses settings below nothing', async () => {
    const file = await write('bad.json', { settings: { ...settings, passes: -1 }, machine: LINE_MACHINE });
    const { exitCode, stdout } = await runCommand('dose-picture', '--in', file);
    expect(exitCode).toBe(3);
    expect(JSON.parse(stdout)).toMatchObject({ fault: { code: 'settings-malformed', path: 'settings.passes' } });
  });

  it('quotes hours and cost with a range, and refuses an area of nothing', async () => {
    const ask = { areaM2: 12, surface: 'mill scale', machine: LINE_MACHINE, target: TARGET, hourlyRate: 85 };
    const { stdout } = await runCommand('quote', '--in', await write('quote.json', ask));
    const quote = quoteSchema.parse(JSON.parse(stdout));
    expect(quote.cost.low).toBeLessThan(quote.cost.high);
    const refused = await runCommand('quote', '--in', await write('quote.json', { ...ask, areaM2: 0 }));
    expect(refused.exitCode).toBe(3);
    expect(JSON.parse(refused.stdout)).toMatchObject({ fault: { code: 'quote-malformed', path: 'areaM2' } });
  });
});

/** The first JSON of a text: what a help shows to be copied. */
function exampleIn(help: string): unknown {
  const lines = help.split('\n');
  const first = lines.findIndex((line) => /^[{[]/.test(line));
  for (let last = first; last < lines.length; last++) {
    try {
      return JSON.parse(lines.slice(first, last + 1).join('\n')) as unknown;
    } catch {
      // Not whole yet.
    }
  }
  throw new Error(`Expected an example in "${help}"`);
}

describe('the help of a command', () => {
  it.each(['advise', 'plan-trial', 'dose-picture', 'quote'])('of %s shows an example that works', async (command) => {
    const help = await runCommand(command, '--help');
    const file = await write(`${command}.json`, exampleIn(help.stdout));
    const { exitCode, stderr } = await runCommand(command, '--in', file, '--out', path(`${command}-answer.json`));
    expect({ exitCode, stderr }).toEqual({ exitCode: 0, stderr: '' });
  });
});
