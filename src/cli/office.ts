import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { openDatabase } from '../office/db/engine.ts';
import { officeKey } from '../office/keys.ts';
import { makeOffice, type Office } from '../office/office.ts';
import { officeServer } from '../office/server.ts';
import { buildApp, buildPage, officeFiles, PAGE } from './app-files.ts';

/*
 * npm run office [-- --new-desk] [--no-build] [--quiet]
 * Serves the app and the office of a workshop with several benches.
 *   DATABASE_URL   a PostgreSQL; without it an embedded database in the data folder
 *   OFFICE_DATA    the data folder; the office's own key is there, whichever the database
 *   HOST, PORT     where to listen
 *   TLS_KEY, TLS_CERT   files in PEM form: the office then speaks https itself
 *   --new-desk     makes a code for another supervisor's desk
 */

const folder = process.env.OFFICE_DATA ?? join(homedir(), '.holdfast', 'office');
const port = Number(process.env.PORT ?? 4173);
const host = process.env.HOST ?? '127.0.0.1';
const told = (flag: string): boolean => process.argv.includes(flag);

function giveUp(sentence: string): never {
  console.error(sentence);
  process.exit(1);
}

async function tlsFiles(): Promise<{ key: Buffer; cert: Buffer } | null> {
  const { TLS_KEY, TLS_CERT } = process.env;
  if (!TLS_KEY && !TLS_CERT) return null;
  if (!TLS_KEY || !TLS_CERT) return giveUp('TLS needs both TLS_KEY and TLS_CERT: set the other one too.');
  return { key: await readFile(TLS_KEY), cert: await readFile(TLS_CERT) };
}

/** The first desk's code goes to whoever started the office, and into no log. */
async function tellCode(office: Office, address: string): Promise<void> {
  if ((await office.devices.anyDesk()) && !told('--new-desk')) return;
  const { code } = await office.devices.makeCode('desk');
  const link = `${address}${PAGE}/#code=${code}`;
  if (process.stdout.isTTY) {
    console.log(`Open this within half an hour to enrol the supervisor’s desk: ${link}`);
    return;
  }
  const file = join(folder, 'desk-code.txt');
  await writeFile(file, `${link}\n`, { mode: 0o600 });
  console.log(`The link that enrols the supervisor’s desk, good for half an hour, is in ${file}`);
}

async function start(): Promise<void> {
  if (!told('--no-build')) {
    await buildApp();
    await buildPage();
  }
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const key = await officeKey(join(folder, 'office-key.json'));
  const url = process.env.DATABASE_URL;
  const database = await openDatabase(url ? { url } : { folder: join(folder, 'data') });
  const office = makeOffice(database, key, Date.now);
  const tls = await tlsFiles();
  const server = officeServer(office, {
    files: officeFiles(),
    ...(told('--quiet') ? {} : { log: (line) => console.log(`${new Date().toISOString()} ${line}`) }),
    ...(tls ? { tls } : {}),
  });
  try {
    await server.listen({ port, host });
  } catch (error) {
    await database.close();
    const taken = (error as NodeJS.ErrnoException).code === 'EADDRINUSE';
    giveUp(taken ? `Port ${port} is taken: set PORT to another one and start again.` : String(error));
  }
  const [at] = server.addresses();
  const open = typeof at === 'object' ? at.port : port;
  const name = host === '127.0.0.1' ? 'localhost' : host;
  const address = `${tls ? 'https' : 'http'}://${name}:${open}`;
  const where = url ? 'PostgreSQL' : `an embedded database in ${folder}`;
  console.log(`Holdfast with its office is served at ${address} (records in ${where})`);
  await tellCode(office, address);
  let ending = false;
  const end = () => {
    if (ending) return;
    ending = true;
    server
      .close()
      .then(() => database.close())
      .then(
        () => process.exit(0),
        () => process.exit(1),
      );
  };
  process.on('SIGINT', end).on('SIGTERM', end);
}

start().catch((error: unknown) => giveUp(error instanceof Error ? error.message : String(error)));
