import type { Courier } from './courier.dom.ts';
import { json } from './courier.dom.ts';
import type { OfficeCalls } from './office-calls.ts';
import type { Offered } from './wire.ts';

/** The office's questions, carried by a courier. */
export function officeCalls(courier: Courier): OfficeCalls {
  const inJob = (job: string) => `/jobs/${encodeURIComponent(job)}`;
  return {
    heads: (heads) => courier.ask('POST', '/heads', json({ heads })),
    push: (job, from, fence, lines) =>
      courier.ask('POST', `${inJob(job)}/records?from=${from}&fence=${fence}`, {
        type: 'application/x-ndjson',
        text: lines,
      }),
    pull: (job, from) => courier.text('GET', `${inJob(job)}/records?from=${from}`),
    seal: async (job, seal) => {
      await courier.ask('PUT', `${inJob(job)}/seal`, json({ seal }));
    },
    offered: async () => (await courier.ask<{ jobs: Offered[] }>('GET', '/offered')).jobs,
    take: (job, fence) => courier.ask('POST', `${inJob(job)}/take`, json({ fence })),
    settings: () => courier.ask('GET', '/settings'),
    procedure: (hash) => courier.ask('GET', `/procedures/${hash}`),
    root: async () => (await courier.ask<{ jws: string }>('GET', '/log/root')).jws,
    inclusion: (job, size) => courier.ask('GET', `/log/inclusion/${job}?size=${size}`),
    consistency: async (from, size) =>
      (await courier.ask<{ proof: string[] }>('GET', `/log/consistency?from=${from}&size=${size}`)).proof,
  };
}
