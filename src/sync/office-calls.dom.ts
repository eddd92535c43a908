import type { Courier } from './courier.dom.ts';
import { json } from './courier.dom.ts';
import type { OfficeCalls } from './office-calls.ts';
import type { LackingFile, Offered } from './wire.ts';

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
    lacking: async (files) =>
      (await courier.ask<{ files: LackingFile[] }>('POST', '/files/lacking', json({ files }))).files,
    putPart: ({ sha256, media, bytes: total }, from, bytes) =>
      courier.ask('PUT', `/files/${sha256}?from=${from}&bytes=${total}`, { type: media, bytes }),
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
