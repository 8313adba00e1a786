import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@domain': fileURLToPath(new URL('./server/domain', import.meta.url)) } },
  test: {
    setupFiles: ['tests/support/fail-on-console.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    retry: 0,
    allowOnly: false,
    projects: [
      {
        extends: true,
        test: {
          name: 'parts',
          include: ['tests/{unit,property,contract,fuzz,architecture}/**/*.test.ts'],
          maxWorkers: 2,
          // What a test waits for may take longer beside another.
          expect: { poll: { timeout: 20_000 } },
          sequence: { groupOrder: 0 },
        },
      },
      {
        // Servers, browsers and limits of time: each file has the machine to itself, once the parts are done.
        extends: true,
        test: {
          name: 'program',
          include: ['tests/{http,e2e}/**/*.test.ts'],
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
