import { createServer } from 'node:http';
import { appFiles, buildApp } from './app-files.ts';

// `npm start`: builds the app when it is missing or older than its sources, serves it, prints the address.
// `npm start -- --office`: the same with the office for several benches.
if (process.argv.includes('--office')) await import('./office.ts');
else await serveApp();

async function serveApp(): Promise<void> {
  if (!process.argv.includes('--no-build')) await buildApp();
  const files = appFiles();
  const port = Number(process.env.PORT ?? 4173);
  const host = process.env.HOST ?? '127.0.0.1';
  const server = createServer((request, response) => {
    files(request, response, () => {
      response.statusCode = 404;
      response.end('There is no such page: open the address without a path.');
    });
  });
  server.on('error', (error: NodeJS.ErrnoException) => {
    const taken = error.code === 'EADDRINUSE';
    console.error(taken ? `Port ${port} is taken: set PORT to another one and start again.` : error.message);
    process.exit(1);
  });
  server.listen(port, host, () => {
    const address = server.address();
    const open = typeof address === 'object' && address ? address.port : port;
    console.log(`Holdfast is served at http://${host === '127.0.0.1' ? 'localhost' : host}:${open}`);
  });
}
