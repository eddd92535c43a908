import { fixtureCleanup } from '@open-wc/testing';
import { afterEach } from 'vitest';

// Without vitest globals the fixture clean-up of @open-wc/testing does not register itself.
afterEach(() => fixtureCleanup());
