import { openApi } from './openapi.ts';
import type { Route } from './route.ts';
import { benchRoutes } from './routes-bench.ts';
import { deskRoutes } from './routes-desk.ts';

const publicRoutes: readonly Route[] = [
  {
    method: 'GET',
    path: '/health',
    summary: 'Is the office there, and does its database answer?',
    rights: 'anyone',
    gives: { says: 'The time of the office and its key’s name.' },
    refusals: ['database-away'],
    async run({ office }) {
      await office.db.selectFrom('seal_head').select('size').executeTakeFirst();
      return { at: new Date(office.now()).toISOString(), office: office.key.kid };
    },
  },
  {
    method: 'GET',
    path: '/openapi.json',
    summary: 'This description.',
    rights: 'anyone',
    gives: { says: 'An OpenAPI 3.1 document.' },
    refusals: [],
    run: async () => openApi(routes),
  },
];

/** Everything that the office answers. */
export const routes: readonly Route[] = [...publicRoutes, ...benchRoutes, ...deskRoutes];
