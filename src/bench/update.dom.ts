import { Workbox } from 'workbox-window';

/** `off`: nothing is kept on this device; `fetching`; `ready`: it starts without a network; `waiting`: a new version is there too. */
export type OfflineState = 'off' | 'fetching' | 'ready' | 'waiting' | 'failed';

export interface Updates {
  readonly state: OfflineState;
  /** Looks for a new version now. */
  look(): Promise<void>;
}

/** How often it is looked whether the bench is at rest, so that a new version may take over, ms. */
const EVERY_MS = 5000;

/**
 * Serves the app without a network after its first load. A new version is fetched in the background and waits; it takes
 * over while the bench is at rest (`atRest`: no job, no question open), never under the mechanic's hands. A window that
 * is in a job when another one lets the new version in goes on with what it has loaded, and renews itself afterwards.
 */
export function keepUpdated(atRest: () => boolean, changed: () => void): Updates {
  let state: OfflineState = 'off';
  const tell = (next: OfflineState) => {
    state = next;
    changed();
  };
  const updates: Updates = {
    get state() {
      return state;
    },
    look: async () => undefined,
  };
  if (!('serviceWorker' in navigator) || import.meta.env.DEV) return updates;

  const workers = navigator.serviceWorker;
  const workbox = new Workbox('/sw.js');
  // The first version that ever takes control replaces nothing.
  const controlled = workers.controller !== null;
  let renewed = false;

  const renew = () => {
    if (!atRest()) return;
    if (renewed) location.reload();
    else if (state === 'waiting') workbox.messageSkipWaiting();
  };
  workers.addEventListener('controllerchange', () => {
    if (!controlled) return;
    renewed = true;
    renew();
  });
  workbox.addEventListener('waiting', () => {
    tell('waiting');
    renew();
  });
  workbox.addEventListener('activated', () => tell('ready'));
  window.setInterval(renew, EVERY_MS);
  // A chunk that an older version named and the newer one no longer has: only a fresh start finds its way.
  window.addEventListener('vite:preloadError', (event) => {
    renewed = true;
    if (atRest()) event.preventDefault();
    renew();
  });

  tell('fetching');
  workbox
    .register()
    .then((registration) => {
      if (registration?.active && state === 'fetching') tell('ready');
    })
    .catch(() => tell('failed'));
  return {
    get state() {
      return state;
    },
    look: async () => {
      await workbox.update().catch(() => undefined);
    },
  };
}
