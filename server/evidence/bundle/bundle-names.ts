/** Fixed names of a bundle's files; photos, class maps and card values are named by the record. */
export const BUNDLE = {
  readMe: 'README.txt',
  record: 'record.json',
  recordSignature: 'record.sig',
  publicKey: 'public-key.pem',
  report: 'report.pdf',
  timeStamp: 'time-stamp.tsr',
  manifest: 'manifest.sha256',
  manifestSignature: 'manifest.sig',
} as const;
