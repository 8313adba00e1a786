import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderReport } from '../../../../../server/services/render-report.ts';
import { METRIC_A4, bundleTools, goldenEvidence } from '../../../../support/evidence-tools.ts';

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'bareplate-checkers-'));
  const { sealed, files } = goldenEvidence('stern-plate', 3);
  const report = await renderReport({ ...sealed, look: METRIC_A4 }, bundleTools(files.values()));
  if (!report.ok) throw new Error(report.fault.code);
  writeFileSync(join(folder, 'report.pdf'), report.value);
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

/** PDFBox Preflight as Debian packs it: libpdfbox2-java, libjaxb-api-java and libactivation-java, with a Java. */
const JARS = ['preflight', 'pdfbox2', 'fontbox2', 'xmpbox', 'commons-logging', 'commons-io', 'jaxb-api'].map(
  (name) => `/usr/share/java/${name}.jar`,
);
const ACTIVATION = '/usr/share/java/javax.activation.jar';
const hasPreflight =
  [...JARS, ACTIVATION].every((jar) => existsSync(jar)) && spawnSync('java', ['-version']).status === 0;

/**
 * Where PDF/A-3 (ISO 19005-3) allows what PDF/A-1 forbids or no longer asks what it asks: embedded files, a list of glyphs
 * beside an embedded subset, and its own part number. Nothing else may differ. From memory.
 */
const DIFFERENCES_OF_PART_3 = [
  '1.4.7 : Trailer Syntax error, EmbeddedFile entry is present in the Names dictionary',
  '1.2.9 : Body Syntax error, EmbeddedFile entry is present in a FileSpecification dictionary',
  '7.11.2 : Error on MetaData, part must be 1',
];
const NO_GLYPH_LIST = /^3\.1\.11 : .*Barlow-\w+: The CIDSet entry is missing for the Composite Subset$/;

describe.skipIf(!hasPreflight)('the report before PDFBox Preflight (skipped without its Debian packages)', () => {
  it('is found to keep every rule of PDF/A-1b but those that PDF/A-3b dropped', () => {
    const classPath = [...JARS, ACTIVATION].join(delimiter);
    const validator = 'org.apache.pdfbox.preflight.Validator_A1b';
    const { stdout } = spawnSync('java', ['-cp', classPath, validator, 'report.pdf'], {
      cwd: folder,
      encoding: 'utf8',
    });
    const findings = stdout.split('\n').filter((line) => /^\d+(\.\d+)+ : /.test(line));
    expect(stdout).toContain('report.pdf is not a valid PDF/A-1b file');
    const others = findings.filter((line) => !NO_GLYPH_LIST.test(line));
    expect(others.sort()).toEqual([...DIFFERENCES_OF_PART_3].sort());
    expect(findings).toHaveLength(DIFFERENCES_OF_PART_3.length + 3);
  }, 60_000);
});

const hasQpdf = spawnSync('qpdf', ['--version']).status === 0;

describe.skipIf(!hasQpdf)('the report before qpdf (skipped without it)', () => {
  it('has no error of syntax or of a stream', () => {
    const { status, stdout, stderr } = spawnSync('qpdf', ['--check', 'report.pdf'], { cwd: folder, encoding: 'utf8' });
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toContain('No syntax or stream encoding errors found');
  });
});
