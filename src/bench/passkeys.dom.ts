import type { Passkeys } from '../job/passkey/passkeys.dom.ts';

/** Passkeys, as far as this browser has them. What they are done with is fetched when it is first wanted. */
export interface PasskeyDoor {
  /** Can this browser, at this address, ask for passkeys? Else nothing of them is shown. */
  readonly here: boolean;
  /** Ids of the people who have a passkey on this bench, as of the last look; nobody where there are none. */
  readonly known: ReadonlySet<string>;
  look(): Promise<void>;
  open(): Promise<Passkeys>;
}

const MISSING = 'Passkeys cannot be used in this browser or at this address: give the PIN.';

/** An RP ID is a domain: at a bare address (IPv4, IPv6) browsers refuse passkeys. */
const isDomain = (host: string): boolean => !/^[\d.]+$|:/.test(host);

export function browserPasskeys(name = 'holdfast'): PasskeyDoor {
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

/** Asks this person for a passkey. Null only when it is theirs and right; else one sentence that says what to do. */
export async function passkeyFault(
  door: PasskeyDoor | undefined,
  person: string,
  now: number,
): Promise<string | null> {
  return door?.here ? (await door.open()).check(person, now) : MISSING;
}
