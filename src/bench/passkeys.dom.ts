import type { PasskeyDoor } from '../job/passkey/door.ts';
import type { Passkeys } from '../job/passkey/passkeys.dom.ts';

export { passkeyFault } from '../job/passkey/door.ts';

export type BenchPasskeys = PasskeyDoor<Passkeys>;

/** An RP ID is a domain: at a bare address (IPv4, IPv6) browsers refuse passkeys. */
const isDomain = (host: string): boolean => !/^[\d.]+$|:/.test(host);

export function browserPasskeys(name = 'holdfast'): BenchPasskeys {
  const here = isSecureContext && 'PublicKeyCredential' in globalThis && isDomain(location.hostname);
  let opened: Promise<Passkeys> | null = null;
  let known: ReadonlySet<string> = new Set();
  const open = () => {
    opened ??= import('../job/passkey/passkeys.dom.ts').then((all) => new all.Passkeys(name));
    // A fetch that failed is tried again at the next wish.
    opened.catch(() => {
      opened = null;
    });
    return opened;
  };
  return {
    here,
    open,
    get known() {
      return known;
    },
    async look() {
      if (here) known = await (await open()).holders();
    },
  };
}
