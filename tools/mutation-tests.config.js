import { defineConfig } from 'vitest/config';

// The tests that hold the numeric core by itself; the others would find most of its faults too, and take hours.
export default defineConfig({ test: { include: ['tests/core/numeric/**/*.test.ts'], testTimeout: 60_000 } });
