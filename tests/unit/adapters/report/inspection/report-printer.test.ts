import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { goldenRecord } from '../../../../../fixtures/golden-records.ts';
import { SURFACE_CLASSES } from '../../../../../server/domain/index.ts';
import type { Measured } from '../../../../../server/domain/index.ts';
import { renderReport } from '../../../../../server/services/render-report.ts';
import type { ReportLook } from '../../../../../server/services/evidence-ports.ts';
import { METRIC_A4, bundleTools, goldenEvidence, goldenInspection } from '../../../../support/evidence-tools.ts';
import type { GoldenEvidence } from '../../../../support/evidence-tools.ts';
import { manyRounds } from '../../../../support/many-rounds.ts';
import { readPdf } from '../../../../support/pdf-file.ts';
import type { PdfFile } from '../../../../support/pdf-file.ts';

async function print({ sealed, files }: GoldenEvidence, look: ReportLook = METRIC_A4): Promise<Buffer> {
  const outcome = await renderReport({ ...sealed, look }, bundleTools(files.values()));
  if (!outcome.ok) throw new Error(outcome.fault.code);
  return Buffer.from(outcome.value);
}

const plain = (text: string): string => text.replace(/[\s\u00a0]+/g, ' ');
const record = goldenInspection('stern-plate');

let bytes: Buffer;
let pdf: PdfFile;
let text: string;
beforeAll(async () => {
  bytes = await print(goldenEvidence('stern-plate'));
  pdf = readPdf(bytes);
  text = plain(pdf.pageTexts().join('\n'));
});

describe('the numbers of the report', () => {
  const { assessment } = record.rounds[0];
  const shares = (m: Measured): string =>
    `${(100 * m.value).toFixed(1)} % (${(100 * m.low).toFixed(1)} to ${(100 * m.high).toFixed(1)})`;

  it('are the shares and intervals of the record', () => {
    for (const name of SURFACE_CLASSES) expect(text).toContain(shares(assessment.after.fractions[name]));
    expect(text).toContain(shares(assessment.after.residue));
    expect(text).toContain(`${(100 * (assessment.after.worstUnitArea?.residueFraction ?? 0)).toFixed(1)} %`);
  });

  it('are the colour errors (CIEDE2000) of the record', () => {
    for (const photo of [assessment.photos.before, assessment.photos.after]) {
      const error = photo?.card.colourErrorDeltaE00;
      expect(error).toBeTruthy();
      expect(text).toContain(
        `median ${error?.median.toFixed(2)}, 95 % below ${error?.p95.toFixed(2)}, largest ${error?.max.toFixed(2)}`,
      );
    }
    expect(text).toContain(assessment.streaks.contrastDeltaE00.toFixed(1));
  });

  it('are the grades of the record, each with its decision and its reason', () => {
    expect(assessment.grades.length).toBeGreaterThan(5);
    for (const { standard, grade, decision, because } of assessment.grades) {
      expect(text).toContain(plain(`${standard} ${grade} ${decision} ${because}`));
    }
  });

  it('are those of the corrected map beside them, where people corrected it', async () => {
    const corrected = goldenInspection('stern-plate', 3).rounds[0].corrected.after;
    const printed = plain(
      readPdf(await print(goldenEvidence('stern-plate', 3)))
        .pageTexts()
        .join('\n'),
    );
    expect(corrected?.decided?.grades).toHaveLength(assessment.grades.length);
    for (const line of [...assessment.grades, ...(corrected?.decided?.grades ?? [])]) {
      expect(printed).toContain(plain(`${line.standard} ${line.grade} ${line.decision} ${line.because}`));
    }
    if (corrected?.decided) expect(printed).toContain(shares(corrected.decided.residue));
    expect(printed).toContain('Classes as corrected by hand');
  });

  it('are the readings of the record, with who entered them', () => {
    expect(text).toContain('clean; dull putty knife, two spots entered by Tom Finch, 24 Nov 2026, 10:35 UTC');
    expect(text).toContain('Surface profile not entered');
  });

  it('stand beside the decision, the hash and the signature', () => {
    const { seal } = goldenEvidence('stern-plate').sealed;
    expect(text).toContain('Rejected by Ida Wren, inspector, 24 Nov 2026, 11:05 UTC');
    expect(text).toContain(seal.recordSha256);
    expect(text.replace(/ /g, '')).toContain(seal.signature);
    expect(text).toContain('Demonstration: people, readings and photos in this record are invented.');
  });
});

describe('the report as a file', () => {
  it('has the same bytes each time', async () => {
    expect((await print(goldenEvidence('stern-plate'))).equals(bytes)).toBe(true);
  });

  it('carries the record, byte for byte, as its source', () => {
    const specification = [...pdf.objects.values()].find((dictionary) => dictionary.includes('/Type /Filespec')) ?? '';
    expect(specification).toContain('/AFRelationship /Source');
    expect(specification).toContain('/UF (record.json)');
    const file = Number(/\/EF <<\n\/F (\d+) 0 R/.exec(specification)?.[1]);
    expect(pdf.objects.get(file)).toContain('/Subtype /application#2Fjson');
    expect(pdf.stream(file).toString('utf8')).toBe(goldenRecord('stern-plate').text);
  });

  it.each([
    ['a4', 'metric', '210 x 297', 'every 3.2 mm'],
    ['letter', 'inch', '216 x 279', 'every 0.126 in'],
  ] as const)('comes on %s in %s units', async (paper, units, size, pitch) => {
    const other = readPdf(await print(goldenEvidence('stern-plate'), { paper, units, recordAddress: null }));
    const page = [...other.objects.values()].find((dictionary) => /\/Type \/Page\b/.test(dictionary)) ?? '';
    const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(page);
    expect(`${Math.round((Number(box?.[1]) / 72) * 25.4)} x ${Math.round((Number(box?.[2]) / 72) * 25.4)}`).toBe(size);
    expect(plain(other.pageTexts().join('\n'))).toContain(pitch);
  });

  it('of 40 rounds takes at most 3 s and 15 MB', async () => {
    const long = manyRounds(40);
    let bestMs = Infinity;
    let sizeBytes = 0;
    // Other work on the machine must not decide: the best of a few tries, by the clock or by the processor time of all
    // threads together, which is what the clock would show at most if nothing else ran.
    for (let turn = 0; turn < 5 && bestMs > 3000; turn++) {
      const [start, used] = [performance.now(), process.cpuUsage()];
      sizeBytes = (await print(long)).length;
      const { user, system } = process.cpuUsage(used);
      bestMs = Math.min(bestMs, performance.now() - start, (user + system) / 1000);
    }
    expect(sizeBytes).toBeLessThan(15e6);
    expect(bestMs).toBeLessThanOrEqual(3000);
  }, 120_000);

  it('says so where a photo has no card and no class map, instead of stating a scale', async () => {
    const golden = goldenEvidence('stern-plate');
    const bare = structuredClone(record);
    const [round] = bare.rounds;
    round.before = null;
    round.assessment.before = null;
    round.assessment.removed = null;
    round.after.surface = null;
    round.after.classMap = null;
    round.assessment.after.worstUnitArea = null;
    round.assessment.zone = { areaMm2: null, polygonMm: null };
    round.assessment.photos.after.card = {
      found: false,
      mmPerPixel: null,
      tiltDegrees: null,
      colourErrorDeltaE00: null,
    };
    const words = plain(
      readPdf(await print({ files: golden.files, sealed: { ...golden.sealed, text: JSON.stringify(bare) } }))
        .pageTexts()
        .join('\n'),
    );
    expect(words).toContain('no scale: no card in view');
    expect(words).toContain('The record holds no class map.');
    expect(words).toContain('No card was in view of the last photo');
    expect(words).not.toContain('scale 1:');
  });
});

/**
 * Rules of ISO 19005-3 (PDF/A-3, level b), from memory. No checker of part 3 is in the registries that this project uses; one
 * of part 1 looks at the same report in independent-checkers.test.ts where it is installed.
 */
describe('the report as PDF/A-3b', () => {
  const dictionaries = (): string[] => [...pdf.objects.values()];
  const contents = (): string[] =>
    [...pdf.objects]
      .filter(([, d]) => /\/Type \/Page\b/.test(d))
      .map(([, d]) => pdf.stream(Number(/\/Contents (\d+) 0 R/.exec(d)?.[1])).toString('latin1'));
  const metadata = (): string => {
    const catalog = dictionaries().find((d) => d.includes('/Type /Catalog')) ?? '';
    return pdf.stream(Number(/\/Metadata (\d+) 0 R/.exec(catalog)?.[1])).toString('utf8');
  };

  it('begins with the version and a comment of bytes above 127', () => {
    expect(bytes.subarray(0, 9).toString('latin1')).toBe('%PDF-1.7\n');
    expect(bytes[9]).toBe(0x25);
    for (const byte of bytes.subarray(10, 14)) expect(byte).toBeGreaterThan(127);
  });

  it('has a file identifier and no encryption in its trailer, and every object at its offset', () => {
    expect(pdf.trailer).toMatch(/\/ID \[<[0-9a-f]{32}> <[0-9a-f]{32}>\]/);
    expect(pdf.trailer).not.toContain('/Encrypt');
    expect(pdf.objects.size).toBeGreaterThan(100);
  });

  it('says part 3, conformance B in uncompressed metadata', () => {
    expect(metadata()).toContain('<pdfaid:part>3</pdfaid:part>');
    expect(metadata()).toContain('<pdfaid:conformance>B</pdfaid:conformance>');
    expect(bytes.toString('latin1')).toContain('<pdfaid:part>3</pdfaid:part>');
  });

  it('has the same title, keywords, programs and dates in metadata and document information', () => {
    const info = pdf.objects.get(Number(/\/Info (\d+) 0 R/.exec(pdf.trailer)?.[1])) ?? '';
    const value = (key: string): string => {
      const text = pdf.objects.get(Number(new RegExp(`/${key} (\\d+) 0 R`).exec(info)?.[1])) ?? '';
      return text.replace(/^\(|\)$/g, '');
    };
    expect(value('Title')).toBe('Inspection record record-teasel-stern-plate');
    expect(metadata()).toContain(`<rdf:li xml:lang="x-default">${value('Title')}</rdf:li>`);
    expect(metadata()).toContain(`<pdf:Producer>${value('Producer')}</pdf:Producer>`);
    expect(metadata()).toContain(`<pdf:Keywords>${value('Keywords')}</pdf:Keywords>`);
    expect(metadata()).toContain(`<xmp:CreatorTool>${value('Creator')}</xmp:CreatorTool>`);
    expect(value('CreationDate')).toBe('D:20261124110500Z');
    expect(metadata()).toContain('<xmp:CreateDate>2026-11-24T11:05:00Z</xmp:CreateDate>');
    expect(info).not.toContain('/ModDate');
  });

  it('states sRGB as its output intent, with the profile, and paints in RGB and grey only', () => {
    const intent = dictionaries().find((d) => d.includes('/Type /OutputIntent')) ?? '';
    expect(intent).toContain('/S /GTS_PDFA1');
    const profile = Number(/\/DestOutputProfile (\d+) 0 R/.exec(intent)?.[1]);
    expect(pdf.objects.get(profile)).toContain('/N 3');
    expect(pdf.stream(profile).subarray(36, 40).toString('latin1')).toBe('acsp');
    for (const page of contents()) {
      for (const [, space] of page.matchAll(/\/(\w+) (?:cs|CS)\n/g)) expect(space).toBe('DeviceRGB');
      expect(page).not.toMatch(/\d [kK]\n/);
    }
    for (const image of dictionaries().filter((d) => d.includes('/Subtype /Image'))) {
      expect(image).toMatch(/\/ColorSpace \/Device(?:RGB|Gray)/);
      expect(image).not.toContain('/Interpolate true');
    }
  });

  it('embeds every font, with its mapping to Unicode', () => {
    const fonts = dictionaries().filter((d) => d.includes('/Type /Font\n'));
    const descendants = fonts.filter((d) => d.includes('/CIDFontType2'));
    expect(descendants.length).toBe(3);
    for (const font of descendants) {
      expect(font).toContain('/CIDToGIDMap /Identity');
      const descriptor = pdf.objects.get(Number(/\/FontDescriptor (\d+) 0 R/.exec(font)?.[1])) ?? '';
      expect(descriptor).toMatch(/\/FontFile2 \d+ 0 R/);
    }
    for (const font of fonts.filter((d) => d.includes('/Type0'))) expect(font).toMatch(/\/ToUnicode \d+ 0 R/);
    expect(text).not.toContain('?');
  });

  it('has no scripts, actions, annotations, forms, LZW, outside streams or optional content', () => {
    for (const dictionary of dictionaries()) {
      expect(dictionary).not.toMatch(
        /\/(?:JavaScript|JS|Launch|OpenAction|AA|Annots|AcroForm|LZWDecode|OCProperties|XFA|Alternates|OPI)\b/,
      );
      expect(dictionary).not.toMatch(/\/(?:FFilter|FDecodeParms)\b/);
    }
  });

  it('paints opaque, without soft masks, blend modes, transfer functions or halftones', () => {
    for (const dictionary of dictionaries()) {
      expect(dictionary).not.toMatch(/(?<!\/S )\/(?:SMask|BM|TR2?|HT|HTP)\b/);
      for (const [, , alpha] of dictionary.matchAll(/\/(ca|CA) ([\d.]+)/g)) expect(Number(alpha)).toBe(1);
    }
  });

  it('names its attached file in the catalog, with its kind and its relation', () => {
    const catalog = dictionaries().find((d) => d.includes('/Type /Catalog')) ?? '';
    expect(catalog).toMatch(/\/AF \[\d+ 0 R\]/);
  });

  it('is tagged: a language, a structure, words for every figure, and nothing drawn outside', () => {
    const catalog = dictionaries().find((d) => d.includes('/Type /Catalog')) ?? '';
    expect(catalog).toContain('/Lang (en)');
    expect(catalog).toMatch(/\/StructTreeRoot \d+ 0 R/);
    expect(pdf.objects.get(Number(/\/MarkInfo (\d+) 0 R/.exec(catalog)?.[1]))).toContain('/Marked true');
    const figures = dictionaries().filter((d) => d.includes('/S /Figure'));
    expect(figures.length).toBeGreaterThan(8);
    for (const figure of figures) expect(figure).toContain('/Alt (');
    for (const page of contents()) {
      let depth = 0;
      for (const [operator] of page.matchAll(/\b(?:BMC|BDC|EMC|BT|Do|f|S|B)\n/g)) {
        if (operator.startsWith('BM') || operator.startsWith('BD')) depth++;
        else if (operator.startsWith('EMC')) depth--;
        else expect(depth).toBeGreaterThan(0);
      }
      expect(depth).toBe(0);
    }
  });
});

const hasPoppler = spawnSync('pdfinfo', ['-v']).status === 0;
/** Skipped where the poppler tools are not installed (Debian: poppler-utils). */
describe.skipIf(!hasPoppler)('the report as the poppler tools read it (skipped without them)', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'bareplate-pdf-'));
    writeFileSync(join(folder, 'report.pdf'), bytes);
  });
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });
  const run = (tool: string, ...options: string[]): string => {
    const result = spawnSync(tool, options, { cwd: folder, encoding: 'utf8' });
    expect(result.stderr).toBe('');
    return result.stdout;
  };

  it('is tagged, and its text can be selected', () => {
    expect(run('pdfinfo', 'report.pdf')).toMatch(/Tagged: +yes/);
    expect(plain(run('pdftotext', 'report.pdf', '-'))).toContain(
      'Rejected by Ida Wren, inspector, 24 Nov 2026, 11:05 UTC',
    );
  });

  it('has the record attached', () => {
    run('pdfdetach', '-saveall', 'report.pdf');
    expect(readFileSync(join(folder, 'record.json'), 'utf8')).toBe(goldenRecord('stern-plate').text);
  });

  it('uses embedded fonts alone', () => {
    const rows = run('pdffonts', 'report.pdf').trim().split('\n').slice(2);
    expect(rows).toHaveLength(3);
    for (const row of rows) expect(row).toMatch(/yes yes yes +\d+ +0$/);
  });
});
