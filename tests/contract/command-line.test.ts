import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BROKEN_FIXTURE_NAMES, fixture } from '../../fixtures/index.ts';
import {
  FAULT_CODES,
  adviceSchema,
  assessmentSchema,
  comparisonSchema,
  referenceCardSchema,
} from '../../server/domain/index.ts';
import type { Assessment, Comparison, FaultCode } from '../../server/domain/index.ts';
import { referenceCard } from '../../server/measure/card/card-layout.ts';
import { cardValuesText } from '../support/card-values-text.ts';
import { PLATE_PHOTO_SIZE, RUST, STEEL, asPng, platePhoto } from '../support/plate-photo.ts';
import type { CommandRun } from '../support/run-command.ts';
import { runCommand } from '../support/run-command.ts';

const SETTINGS = { powerW: 1500, scanWidthMm: 100, scanFrequencyHz: 50, travelSpeedMmPerS: 20, passes: 2 };
const MACHINE = {
  powerW: { min: 300, max: 2000 },
  scanWidthMm: { min: 20, max: 300 },
  scanFrequencyHz: { min: 10, max: 200 },
  travelSpeedMmPerS: { min: 2, max: 100 },
  strokesPerCycle: 2,
  spotDiameterMm: 2,
  maxPasses: 10,
};
const COLOUR = ['--segmenter', 'colour'] as const;
const ZONE = 'mm:162,0,242,80';

let folder = '';
const inFolder = (name: string): string => join(folder, name);
const write = async (name: string, content: Uint8Array | string): Promise<string> => {
  await writeFile(inFolder(name), content);
  return inFolder(name);
};
const writeJson = (name: string, value: unknown): Promise<string> => write(name, JSON.stringify(value));
const photo = { before: '', after: '', bare: '' };

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-cli-'));
  // Before: rust all over. After: steel, but for a square of rust of 40 x 40 mm in the zone of 80 x 80 mm.
  photo.before = await write('before.png', await asPng(await platePhoto({ plate: () => RUST, seed: 2, tilt: 0.1 })));
  photo.after = await write(
    'after.png',
    await asPng(
      await platePhoto({ plate: (x, y) => (x > 202 && x < 242 && y > 40 && y < 80 ? RUST : STEEL), seed: 3 }),
    ),
  );
  photo.bare = await write(
    'no-card.png',
    await asPng(await platePhoto({ plate: (x) => (x > 76 ? RUST : STEEL), withCard: false, tilt: 0, seed: 4 })),
  );
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Exit 3, the fault alone as JSON on stdout, its sentence alone on stderr. */
function expectRefusal({ exitCode, stdout, stderr }: CommandRun, code: FaultCode): void {
  expect([exitCode, (JSON.parse(stdout) as { fault: { code: string } }).fault.code]).toEqual([3, code]);
  const { fault, ...rest } = JSON.parse(stdout) as { fault: { code: string; sentence: string } };
  expect(rest).toEqual({});
  expect(FAULT_CODES).toContain(fault.code);
  expect(stderr).toBe(`${fault.sentence}\n`);
  expect(fault.sentence).toMatch(/^[^\n]+\.$/);
  // What came may be quoted; the program's own words hold no such thing.
  expect(fault.sentence.replace(/"[^"]*"|\(.*\)/g, '')).not.toMatch(/undefined|NaN|\[object/);
}

function assessmentOf({ exitCode, stdout, stderr }: CommandRun): Assessment {
  expect([exitCode, stderr]).toEqual([0, '']);
  return assessmentSchema.strict().parse(JSON.parse(stdout));
}

describe('assess', () => {
  it('measures a pair beside the card and keeps to the contract', async () => {
    const settings = await writeJson('settings.json', { settings: SETTINGS, machine: MACHINE });
    const overlay = inFolder('overlay.png');
    const run = await runCommand(
      ...['assess', '--after', photo.after, '--before', photo.before, '--zone', ZONE, '--settings', settings],
      ...['--target', 'Sa 2 1/2', '--overlay', overlay, ...COLOUR],
    );
    const assessment = assessmentOf(run);
    expect(assessment.zone.areaMm2).toBeCloseTo(6400, 6);
    expect(assessment.zone.polygonMm).toEqual([
      [162, 0],
      [242, 0],
      [242, 80],
      [162, 80],
    ]);
    expect(Math.abs(assessment.after.residue.value - 0.25)).toBeLessThan(0.02);
    expect(assessment.after.residue.low).toBeLessThan(0.25);
    expect(assessment.after.residue.high).toBeGreaterThan(0.25);
    expect(assessment.before?.residue.value).toBeGreaterThan(0.97);
    expect(Math.abs((assessment.removed?.value ?? NaN) - 0.75)).toBeLessThan(0.03);
    // The 76 mm square nearest the rust holds all of its 1600 mm2.
    expect(Math.abs((assessment.after.worstUnitArea?.residueFraction ?? NaN) - 1600 / 5776)).toBeLessThan(0.02);
    expect(assessment.photos.after.card).toMatchObject({ found: true });
    // 0.46 mm at the card's middle, more where the plate recedes.
    expect(assessment.photos.after.card.mmPerPixel).toBeGreaterThan(0.42);
    expect(assessment.photos.after.card.mmPerPixel).toBeLessThan(0.56);
    expect(assessment.grades.find(({ grade }) => grade === 'Sa 2 1/2')?.decision).toBe('does not meet');
    expect(assessment.advice?.suggestions.length).toBeGreaterThan(0);
    const { width, height } = await sharp(await readFile(overlay)).metadata();
    expect(width).toBe(PLATE_PHOTO_SIZE.width);
    expect(height).toBeGreaterThan(PLATE_PHOTO_SIZE.height);
  });

  it('takes the zone of the before photo from --zone-before, polygons in pixels, and zones from files', async () => {
    const zoneFile = await writeJson('zone.json', {
      polygonMm: [
        [162, 0],
        [242, 0],
        [242, 80],
        [162, 80],
      ],
    });
    const zoneBefore = await writeJson('zone-before.json', {
      polygonPx: [
        [640, 200],
        [790, 200],
        [790, 350],
        [640, 350],
      ],
    });
    const run = await runCommand(
      ...['assess', '--after', photo.after, '--before', photo.before, '--zone', `@${zoneFile}`],
      ...['--zone-before', `@${zoneBefore}`, ...COLOUR],
    );
    const assessment = assessmentOf(run);
    expect(assessment.zone.areaMm2).toBeCloseTo(6400, 6);
    expect(Math.abs(assessment.after.residue.value - 0.25)).toBeLessThan(0.02);
    expect(assessment.before?.residue.value).toBeGreaterThan(0.97);
  });

  it('writes the JSON to a file and nothing to stdout', async () => {
    const out = inFolder('assessment.json');
    const run = await runCommand('assess', '--after', photo.after, '--zone', ZONE, '--out', out, ...COLOUR);
    expect(run).toEqual({ exitCode: 0, stdout: '', stderr: '' });
    const assessment = assessmentSchema.parse(JSON.parse(await readFile(out, 'utf8')));
    expect(assessment.photos.before).toBeNull();
    expect([assessment.before, assessment.removed]).toEqual([null, null]);
  });

  it('answers without a card in pixels: no millimetres anywhere, wider intervals and a warning', async () => {
    const zone = 'px:100,100,740,100,740,500,100,500';
    const assessment = assessmentOf(await runCommand('assess', '--after', photo.bare, '--zone', zone, ...COLOUR));
    expect(assessment.photos.after.card).toEqual({
      found: false,
      mmPerPixel: null,
      tiltDegrees: null,
      colourErrorDeltaE00: null,
    });
    expect(assessment.zone).toEqual({ areaMm2: null, polygonMm: null });
    expect(assessment.after.worstUnitArea).toBeNull();
    expect(assessment.after.appearance.textureContrast).toBeNull();
    expect(assessment.streaks.pitchMm).toBeNull();
    expect(assessment.warnings.map(({ code }) => code)).toContain('no-card');
    const { residue } = assessment.after;
    expect(residue.high - residue.low).toBeGreaterThan(0.01);
  });

  it('takes card values, and the whole photo when no zone is given', async () => {
    const values = await write('card.txt', cardValuesText(referenceCard(), { paper: { L: 100, a: 0, b: 0 } }));
    const run = await runCommand('assess', '--after', photo.after, '--card-values', values, ...COLOUR);
    const assessment = assessmentOf(run);
    expect(assessment.zone.polygonMm).toBeNull();
    expect(assessment.zone.areaMm2).toBeGreaterThan(60_000);
    expect(assessment.after.residue.value).toBeLessThan(0.1);
  });

  it('asks the trained network unless told otherwise', async () => {
    const assessment = assessmentOf(await runCommand('assess', '--after', photo.after, '--zone', ZONE));
    expect(assessment.segmenter).toMatch(/^surface-classes\/\d+$/);
  });
});

describe('compare', () => {
  it('measures patches side by side and keeps to the contract', async () => {
    const settings = await writeJson('fast.json', SETTINGS);
    const run = await runCommand(
      ...['compare', '--photo', photo.after, '--zone', 'A=mm:162,0,200,38', '--zone', 'B=mm:204,42,240,78'],
      ...['--zone', 'C=px:60,60,200,60,200,200,60,200', '--settings', `A=${settings}`, ...COLOUR],
    );
    expect([run.exitCode, run.stderr]).toEqual([0, '']);
    const comparison: Comparison = comparisonSchema.parse(JSON.parse(run.stdout));
    expect(Object.keys(comparison.zones)).toEqual(['A', 'B', 'C']);
    expect(comparison.pairs.map(({ a, b, residue }) => [a, b, residue])).toEqual([
      ['A', 'B', 'a cleaner'],
      ['A', 'C', 'no real difference'],
      ['B', 'C', 'b cleaner'],
    ]);
    // 100 mm at 20 mm/s in 2 passes is 1000 mm2/s: 1000 s or 16.7 minutes for a square metre.
    expect(comparison.zones['A'].minutesPerSquareMetre).toBeCloseTo(1000 / 60, 6);
    expect(comparison.zones['B'].minutesPerSquareMetre).toBeUndefined();
  });
});

describe('segment', () => {
  it.each([
    ['a photo with a card', () => photo.after],
    ['a photo without one', () => photo.bare],
  ] as const)('writes one code 0 to 5 for every pixel of %s', async (_, path) => {
    const out = inFolder('classes.png');
    const run = await runCommand('segment', '--photo', path(), '--out', out, ...COLOUR);
    expect(run).toEqual({ exitCode: 0, stdout: '', stderr: '' });
    const metadata = await sharp(await readFile(out)).metadata();
    expect(metadata).toMatchObject({ ...PLATE_PHOTO_SIZE, channels: 1, depth: 'uchar' });
    const codes = await sharp(await readFile(out))
      .toColourspace('b-w')
      .raw()
      .toBuffer();
    expect(codes).toHaveLength(PLATE_PHOTO_SIZE.width * PLATE_PHOTO_SIZE.height);
    expect(Math.max(...new Set(codes))).toBeLessThanOrEqual(5);
    const rusted = codes.filter((code) => code === 3).length / codes.length;
    if (path() === photo.bare) expect(Math.abs(rusted - 0.5)).toBeLessThan(0.05);
    else {
      // The middle of the card is no surface.
      expect(codes[300 * PLATE_PHOTO_SIZE.width + 440]).toBe(0);
    }
  });

  it('is the size of the upright photo, after the EXIF orientation', async () => {
    const turned = await write(
      'turned.jpg',
      await sharp({ create: { width: 200, height: 120, channels: 3, background: '#777777' } })
        .withMetadata({ orientation: 6 })
        .jpeg()
        .toBuffer(),
    );
    const out = inFolder('turned.png');
    expect(
      (await runCommand('segment', '--photo', turned, '--out', out, '--mm-per-pixel', '0.3', ...COLOUR)).exitCode,
    ).toBe(0);
    expect(await sharp(await readFile(out)).metadata()).toMatchObject({ width: 120, height: 200 });
  });
});

describe('card', () => {
  it('writes the layout, the picture of exactly its outline, and the PDF', async () => {
    const json = inFolder('card.json');
    expect(await runCommand('card', '--format', 'json', '--out', json)).toEqual({
      exitCode: 0,
      stdout: '',
      stderr: '',
    });
    expect(referenceCardSchema.parse(JSON.parse(await readFile(json, 'utf8')))).toEqual(referenceCard());
    const png = inFolder('card.png');
    await runCommand('card', '--format', 'png', '--dpi', '150', '--out', png);
    expect(await sharp(await readFile(png)).metadata()).toMatchObject({ width: 900, height: 600 });
    const pdf = inFolder('card.pdf');
    await runCommand('card', '--format', 'pdf', '--paper', 'letter', '--out', pdf);
    expect((await readFile(pdf)).subarray(0, 5).toString()).toBe('%PDF-');
  });
});

describe('advise', () => {
  const history = {
    machine: MACHINE,
    surface: 'heavy pitted rust',
    target: { residueFractionMax: 0.05 },
    rounds: [
      { settings: SETTINGS, before: { residueFraction: 1 }, after: { residueFraction: 0.4, low: 0.35, high: 0.45 } },
    ],
  };

  it('advises from a history, and from one without rounds', async () => {
    for (const rounds of [history.rounds, []]) {
      const file = await writeJson('history.json', { ...history, rounds });
      const { exitCode, stdout, stderr } = await runCommand('advise', '--in', file);
      expect([exitCode, stderr]).toEqual([0, '']);
      expect(adviceSchema.parse(JSON.parse(stdout)).suggestions.length).toBeGreaterThan(0);
    }
  });

  it.each([
    ['no JSON', '{"machine":'],
    ['a list', '[]'],
    ['no machine', JSON.stringify({ ...history, machine: undefined })],
    ['a share above 1', JSON.stringify({ ...history, target: { residueFractionMax: 5 } })],
    ['limits the wrong way round', JSON.stringify({ ...history, machine: { ...MACHINE, powerW: { min: 9, max: 1 } } })],
  ])('refuses a history with %s', async (_, text) => {
    expectRefusal(await runCommand('advise', '--in', await write('bad.json', text)), 'history-malformed');
  });

  it.each([
    ['negative passes', { settings: { ...SETTINGS, passes: -1 } }, 'history-malformed'],
    ['a power beyond the machine', { settings: { ...SETTINGS, powerW: 99_000 } }, 'history-contradictory'],
    ['residue that grew for certain', { before: { residueFraction: 0.05 } }, 'history-contradictory'],
  ] as const)('refuses a round with %s', async (_, change, code) => {
    const file = await writeJson('nonsense.json', { ...history, rounds: [{ ...history.rounds[0], ...change }] });
    expectRefusal(await runCommand('advise', '--in', file), code);
  });
});

describe('photos that cannot be used', () => {
  it('are refused when they are not there, or a folder', async () => {
    expectRefusal(await runCommand('assess', '--after', inFolder('nowhere.jpg')), 'file-not-found');
    expectRefusal(await runCommand('assess', '--after', folder), 'file-not-found');
    expectRefusal(
      await runCommand('segment', '--photo', inFolder('nowhere.jpg'), '--out', inFolder('x.png')),
      'file-not-found',
    );
    expectRefusal(
      await runCommand('compare', '--photo', inFolder('nowhere.jpg'), '--zone', 'A=mm:0,0,9,9'),
      'file-not-found',
    );
  });

  it.each(BROKEN_FIXTURE_NAMES)('are refused: %s', async (name) => {
    const run = await runCommand('assess', '--after', fixture(name).path, ...COLOUR);
    const { fault } = JSON.parse(run.stdout) as { fault: { code: FaultCode } };
    expectRefusal(run, fault.code);
    expect(fault.code).toMatch(/^photo-|^file-empty$/);
  });

  it.each([
    ['empty.jpg', 'file-empty'],
    ['cut.jpg', 'photo-truncated'],
    ['document.pdf', 'photo-wrong-type'],
    ['one-pixel.png', 'photo-too-small'],
    ['huge.avif', 'photo-too-large'],
    ['huge-packed.png', 'photo-too-large'],
    ['moving.gif', 'photo-animated'],
    ['cmyk.jpg', 'photo-colour-model'],
    ['exif-outside.jpg', 'photo-exif-broken'],
    ['icc-stub.jpg', 'photo-icc-broken'],
  ] as const)('are refused as before photo too: %s', async (name, code) => {
    const run = await runCommand('assess', '--after', photo.after, '--before', fixture(name).path, ...COLOUR);
    expectRefusal(run, code);
  });

  it('are not those of 16 bits, which are read', async () => {
    const run = await runCommand('assess', '--after', fixture('card-16bit.png').path, ...COLOUR);
    expect(assessmentOf(run).photos.after).toMatchObject({ widthPx: 256, heightPx: 192 });
  });

  it('are two of the same file', async () => {
    const run = await runCommand('assess', '--after', photo.after, '--before', photo.after, '--zone', ZONE, ...COLOUR);
    expectRefusal(run, 'photos-identical');
  });

  it('are two of different things: zones of another size', async () => {
    const sizes = ['--zone', 'mm:162,0,242,80', '--zone-before', 'mm:162,0,202,40'];
    const pair = ['assess', '--after', photo.after, '--before', photo.before];
    expectRefusal(await runCommand(...pair, ...sizes, ...COLOUR), 'photos-of-different-things');
  });

  it('swapped by mistake are answered with a warning: rust may come back', async () => {
    const swapped = ['assess', '--after', photo.before, '--before', photo.after, '--zone', ZONE];
    const { warnings } = assessmentOf(await runCommand(...swapped, ...COLOUR));
    expect(warnings.map(({ code }) => code)).toContain('residue-grew');
  });
});

describe('zones that cannot be used', () => {
  it.each([
    ['mm:1000,0,1100,100', 'zone-outside-photo'],
    ['px:0,0,5000,0,5000,5000,0,5000', 'zone-outside-photo'],
    ['mm:162,0,242,80,242,0,162,80', 'zone-crosses-itself'],
    ['mm:100,0,200,80', 'zone-over-card'],
    ['mm:170,10,175,15', 'zone-too-small'],
    ['mm:170,10', 'zone-malformed'],
    ['mm:a,b,c,d', 'zone-malformed'],
    ['mm:0,0,NaN,10', 'zone-malformed'],
    ['mm:0,0,1e999,10', 'zone-malformed'],
    ['cm:0,0,10,10', 'zone-malformed'],
    ['', 'zone-malformed'],
    ['@nowhere.json', 'file-not-found'],
    ['px:-1e300,-1e300,1e300,-2e300,1e300,1e300,-1e300,2e300', 'zone-outside-photo'],
  ] as const)('%s is refused', async (zone, code) => {
    expectRefusal(await runCommand('assess', '--after', photo.after, '--zone', zone, ...COLOUR), code);
  });

  it.each([
    ['no JSON', '{'],
    ['two points', '{"polygonMm": [[0, 0], [1, 1]]}'],
    ['a word for a number', '{"polygonPx": [[0, 0], [1, "1"], [2, 2]]}'],
    ['no unit', '{"polygon": [[0, 0], [1, 1], [2, 2]]}'],
    ['a number that is none', '{"polygonMm": [[0, 0], [1, null], [2, 2]]}'],
  ])('a zone file with %s is refused', async (_, text) => {
    const file = await write('bad-zone.json', text);
    expectRefusal(
      await runCommand('assess', '--after', photo.after, '--zone', `@${file}`, ...COLOUR),
      'zone-malformed',
    );
  });

  it('millimetres without a card are refused', async () => {
    expectRefusal(await runCommand('assess', '--after', photo.bare, '--zone', ZONE, ...COLOUR), 'zone-needs-card');
  });

  it('a patch of compare that cannot be used is refused', async () => {
    const run = await runCommand('compare', '--photo', photo.after, '--zone', 'A=mm:100,0,200,80', ...COLOUR);
    expectRefusal(run, 'zone-over-card');
  });
});

describe('settings, card values and targets that cannot be used', () => {
  it.each([
    ['a number without a unit', { ...SETTINGS, powerW: undefined, power: 1500 }, 'powerW'],
    ['a negative number', { ...SETTINGS, powerW: -1500 }, 'powerW'],
    ['a number that is none', { ...SETTINGS, travelSpeedMmPerS: NaN }, 'travelSpeedMmPerS'],
    ['zero', { ...SETTINGS, scanWidthMm: 0 }, 'scanWidthMm'],
    ['half a pass', { ...SETTINGS, passes: 1.5 }, 'passes'],
    ['a word', { ...SETTINGS, scanFrequencyHz: '50' }, 'scanFrequencyHz'],
    ['one missing', { ...SETTINGS, passes: undefined }, 'passes'],
  ])('settings with %s are refused by name', async (_, settings, name) => {
    const file = await writeJson('bad-settings.json', settings);
    const run = await runCommand('assess', '--after', photo.after, '--settings', file, ...COLOUR);
    expectRefusal(run, 'settings-malformed');
    expect(run.stderr).toContain(`"${name}"`);
  });

  it.each(['{"powerW": NaN}', '', 'null', '[]', '"fast"', '12'])('a settings file of %j is refused', async (text) => {
    const file = await write('odd-settings.json', text);
    const run = await runCommand('assess', '--after', photo.after, '--settings', file, ...COLOUR);
    expectRefusal(run, text === '' ? 'file-empty' : 'settings-malformed');
  });

  it('settings of a patch are refused too', async () => {
    const file = await writeJson('bad-settings.json', { ...SETTINGS, powerW: -1 });
    const run = await runCommand(
      ...['compare', '--photo', photo.after, '--zone', 'A=mm:162,0,200,38', '--settings', `A=${file}`, ...COLOUR],
    );
    expectRefusal(run, 'settings-malformed');
  });

  it.each([
    ['prose', 'hello', 'card-values-malformed'],
    ['a value that is none', cardValuesText(referenceCard()).replace(/\nA1 \S+/, '\nA1 abc'), 'card-values-malformed'],
    [
      'a patch missing',
      cardValuesText(referenceCard())
        .replace(/\nA1 [^\n]+/, '')
        .replace(/SETS \d+/, 'SETS 47'),
      'card-values-mismatch',
    ],
    ['an end missing', cardValuesText(referenceCard()).replace('END_DATA\n', ''), 'card-values-malformed'],
  ] as const)('card values with %s are refused', async (_, text, code) => {
    const file = await write('bad-card.txt', text);
    expectRefusal(await runCommand('assess', '--after', photo.after, '--card-values', file, ...COLOUR), code);
  });

  it('a grade that nobody knows is refused with those that are known', async () => {
    const run = await runCommand('assess', '--after', photo.after, '--target', 'shiny', ...COLOUR);
    expectRefusal(run, 'target-unknown');
    expect(run.stderr).toContain('Sa 2 1/2');
  });
});

describe('wrong usage', () => {
  it.each([
    [[]],
    [['polish']],
    [['assess']],
    [['assess', '--after']],
    [['assess', '--after', 'a.jpg', '--shine']],
    [['assess', '--after', 'a.jpg', 'extra']],
    [['card', '--format', 'gif', '--out', 'x']],
    [['card', '--format', 'png', '--dpi', '0', '--out', 'x']],
    [['card', '--format', 'png', '--dpi', 'many', '--out', 'x']],
    [['card', '--format', 'png']],
    [['segment', '--photo', 'a.jpg']],
    [['segment', '--photo', 'a.jpg', '--out', 'b.png', '--mm-per-pixel', '-1']],
    [['segment', '--photo', 'a.jpg', '--out', 'b.png', '--mm-per-pixel', 'Infinity']],
    [['compare', '--photo', 'a.jpg']],
    [['compare', '--photo', 'a.jpg', '--zone', 'mm:0,0,1,1']],
    [['compare', '--photo', 'a.jpg', '--zone', 'A=mm:0,0,1,1', '--zone', 'A=mm:0,0,1,1']],
    [['compare', '--photo', 'a.jpg', '--zone', 'A=mm:0,0,1,1', '--settings', 'B=b.json']],
    [['advise']],
  ])('%j ends with 2, words on stderr and nothing on stdout', async (words) => {
    const { exitCode, stdout, stderr } = await runCommand(...words);
    expect([exitCode, stdout]).toEqual([2, '']);
    expect(stderr.length).toBeGreaterThan(10);
    expect(stderr).not.toContain('    at ');
  });

  it.each([[['--help']], [['assess', '--help']], [['help', 'compare']]])(
    '%j is answered and ends with 0',
    async (words) => {
      const { exitCode, stdout, stderr } = await runCommand(...words);
      expect([exitCode, stderr]).toEqual([0, '']);
      expect(stdout).toContain('Usage: bareplate');
    },
  );

  it('anything unforeseen ends with 1: a result that cannot be written', async () => {
    const nowhere = join(folder, 'no', 'such', 'folder', 'out.json');
    const run = await runCommand('card', '--format', 'json', '--out', nowhere);
    expect([run.exitCode, run.stdout]).toEqual([1, '']);
    expect(run.stderr).toContain('ENOENT');
  });
});

describe('the program as it is started', () => {
  const program = fileURLToPath(new URL('../../server/cli/bareplate.mjs', import.meta.url));
  const start = (...words: string[]): CommandRun => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
      encoding: 'utf8',
      cwd: folder,
    });
    return { exitCode: status ?? -1, stdout, stderr };
  };

  it('refuses, assesses, and tells usage from help by its exit code', () => {
    expectRefusal(start('assess', '--after', 'nowhere.jpg'), 'file-not-found');
    expect(start('assess').exitCode).toBe(2);
    const help = start('--help');
    expect([help.exitCode, help.stderr]).toEqual([0, '']);
    expect(help.stdout).toContain('class 4');
    const run = start('assess', '--after', 'after.png', '--zone', ZONE, '--segmenter', 'colour');
    expect(Math.abs(assessmentOf(run).after.residue.value - 0.25)).toBeLessThan(0.02);
  });

  it('says nothing of it when whoever reads its output has stopped reading', async () => {
    const history = await writeJson('pipe-history.json', {
      machine: MACHINE,
      target: { residueFractionMax: 0.05 },
      rounds: [],
    });
    for (const [words, exitCode] of [
      [['--help'], 0],
      [['advise', '--in', history], 0],
      [['advise', '--in', inFolder('nowhere.json')], 3],
    ] as const) {
      const running = spawn(process.execPath, [program, ...words], { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
      running.stdout.destroy();
      let stderr = '';
      running.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
      const [code] = (await once(running, 'close')) as [number | null];
      expect([code, stderr.split('\n').length]).toEqual([exitCode, exitCode === 0 ? 1 : 2]);
      expect(stderr).not.toContain('EPIPE');
    }
  });
});
