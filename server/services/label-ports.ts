export interface ZoneLabel {
  readonly name: string;
  readonly jobName: string;
  readonly labelCode: string;
  /** What the QR code says. */
  readonly url: string;
}

/** Draws QR codes for paper, screen and console. */
export interface LabelPrinter {
  /** SVG of 62 mm x 29 mm, a common size of address labels. */
  zoneLabel(label: ZoneLabel): Promise<string>;
  qrSvg(text: string): Promise<string>;
  qrForConsole(text: string): Promise<string>;
}
