/** Imports run one way; see DEVELOPERS.md. */
const server = (room) => `^server/${room}/`;

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'domain-imports-zod-only',
      severity: 'error',
      from: { path: server('domain') },
      to: { pathNot: [server('domain'), 'node_modules/zod'] },
    },
    {
      name: 'pure-rooms-import-domain-only',
      comment: 'measure, process and evidence: no I/O, no libraries, no clock',
      severity: 'error',
      from: { path: '^server/(measure|process|evidence)/' },
      to: { pathNot: [server('domain'), '^server/$1/'] },
    },
    {
      name: 'services-import-the-pure-rooms',
      severity: 'error',
      from: { path: server('services') },
      to: { path: '^server/(adapters|http|cli)/|^server/(main|wiring)' },
    },
    {
      name: 'adapters-stand-alone',
      severity: 'error',
      from: { path: server('adapters') },
      to: { path: '^server/(http|cli)/|^server/(main|wiring)' },
    },
    {
      name: 'only-wiring-names-adapters',
      severity: 'error',
      from: { path: '^server/', pathNot: ['^server/wiring(-server|-report)?\\.ts$', server('adapters')] },
      to: { path: server('adapters') },
    },
    {
      name: 'client-imports-domain-only',
      severity: 'error',
      from: { path: '^client/' },
      to: { path: '^server/', pathNot: server('domain') },
    },
    {
      name: 'server-does-not-import-tests-or-client',
      severity: 'error',
      from: { path: '^server/' },
      to: { path: '^(tests|client|fixtures/(?!demo))' },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(dist|coverage|out)/' },
  },
};
