import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    {
      // The bundled library is imported as text, as the bundler does.
      name: 'spring-as-text',
      enforce: 'pre',
      load(id) {
        if (id.endsWith('.spring')) return `export default ${JSON.stringify(readFileSync(id, 'utf8'))};`;
        return undefined;
      },
    },
  ],
  // As many at a time as the machine has cores; the browser tests among them wait for their pages, not for a core.
  test: { include: ['tests/**/*.test.ts'], maxWorkers: '100%', testTimeout: 30_000, hookTimeout: 60_000 },
});
