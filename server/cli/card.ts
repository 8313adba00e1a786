import { writeFile } from 'node:fs/promises';
import { InvalidArgumentError, Option } from 'commander';
import type { Command } from 'commander';
import { referenceCard } from '../measure/card/card-layout.ts';
import type { CardPrinter, PaperSize } from '../services/ports.ts';

interface CardOptions {
  readonly format: 'pdf' | 'png' | 'json';
  readonly dpi: number;
  readonly paper: PaperSize;
  readonly out: string;
}

const DPI = { least: 72, most: 1200, usual: 300 } as const;

export function addCardCommand(program: Command, tools: { readonly cardPrinter: CardPrinter }): void {
  program
    .command('card')
    .description('write the reference card: a PDF to print, a PNG of exactly its outline, or its layout as JSON')
    .addOption(new Option('--format <kind>', 'what to write').choices(['pdf', 'png', 'json']).makeOptionMandatory())
    .addOption(new Option('--paper <size>', 'sheet for the PDF').choices(['a4', 'letter']).default('a4'))
    .option('--dpi <n>', `dots per inch of the PNG, ${DPI.least} to ${DPI.most}`, readDpi, DPI.usual)
    .requiredOption('--out <file>', 'file to write')
    .addHelpText('after', '\nExample: npx bareplate card --format pdf --paper a4 --out card.pdf')
    .action(async (options: CardOptions) => {
      await writeFile(options.out, await render(options, tools.cardPrinter));
    });
}

function readDpi(text: string): number {
  const dpi = Number(text);
  if (!Number.isInteger(dpi) || dpi < DPI.least || dpi > DPI.most) {
    throw new InvalidArgumentError(`expected a whole number from ${DPI.least} to ${DPI.most}`);
  }
  return dpi;
}

async function render(options: CardOptions, printer: CardPrinter): Promise<Uint8Array | string> {
  const card = referenceCard();
  switch (options.format) {
    case 'pdf':
      return printer.pdf(card, options.paper);
    case 'png':
      return printer.png(card, options.dpi);
    case 'json':
      return `${JSON.stringify(card, null, 2)}\n`;
  }
}
