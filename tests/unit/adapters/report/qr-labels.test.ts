import { describe, expect, it } from 'vitest';
import { qrLabels } from '../../../../server/adapters/report/labels/qr-labels.ts';

const label = (name: string, jobName = 'Workboat Teasel, refit'): Promise<string> =>
  qrLabels().zoneLabel({ name, jobName, labelCode: 'FJPNDDE1', url: 'https://shop.example/z/FJPNDDE1' });
/** Right ends of the letters that are drawn as shapes, mm. */
const rightmost = (svg: string): number =>
  Math.max(
    ...[...svg.matchAll(/<path d="([^"]+)"/g)].flatMap(([, d]) =>
      [...d.matchAll(/[ML]([\d.-]+) /g)].map(([, x]) => Number(x)),
    ),
  );

describe('the label of a zone', () => {
  it('draws its words as shapes that need no typeface, within its 62 mm', async () => {
    const svg = await label('Plate over the rudder stock, port side, behind the skeg', 'W'.repeat(80));
    expect(svg).not.toContain('<text');
    expect(svg).toContain('<title>Plate over the rudder stock, port side, behind the skeg, ');
    expect(rightmost(svg)).toBeGreaterThan(45);
    expect(rightmost(svg)).toBeLessThanOrEqual(60);
  });

  it('leaves writing that the typeface lacks to the printer, and lets no mark through', async () => {
    const svg = await label('舵 <b>');
    expect(svg).toContain('>舵 &#60;b&#62;</text>');
    expect(svg).not.toContain('<b>');
  });

  it('cuts a word that is too long for a line', async () => {
    expect(rightmost(await label('n'.repeat(60)))).toBeLessThanOrEqual(60);
  });
});
