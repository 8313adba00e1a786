import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { alias: { '@domain': fileURLToPath(new URL('./server/domain', import.meta.url)) } },
  test: {
    include: ['tests/{unit,property,golden,contract,fuzz,architecture,http,e2e}/**/*.test.ts'],
    setupFiles: ['tests/support/fail-on-console.ts'],
    testTimeout: 60_000,
    retry: 0,
    allowOnly: false,
  },
});
