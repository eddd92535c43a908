import { Workbox } from 'workbox-window';

/**
 * Serves the app without a network after its first load. A new version is fetched in the background and waits; it takes
 * over when the app starts while no job is open, never under the mechanic's hands.
 */
export function keepUpdated(): void {
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return;
  const workbox = new Workbox('/sw.js');
  const inJob = () => location.hash.startsWith('#job=');
  workbox.addEventListener('waiting', () => {
    const takeOver = () => {
      if (inJob()) return false;
      workbox.addEventListener('controlling', () => location.reload());
      workbox.messageSkipWaiting();
      return true;
    };
    if (takeOver()) return;
    const timer = setInterval(() => {
      if (takeOver()) clearInterval(timer);
    }, 5000);
  });
  workbox.register().catch(() => undefined);
}
