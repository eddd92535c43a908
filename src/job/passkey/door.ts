import { passkeySentence } from './fault.ts';

/** Asks a person for a passkey: null only when it is theirs and right, else one sentence that says what to do. */
export interface PasskeyCheck {
  check(person: string, now: number): Promise<string | null>;
}

/** Passkeys, as far as this browser has them. What they are done with is fetched when it is first wanted. */
export interface PasskeyDoor<Opened extends PasskeyCheck = PasskeyCheck> {
  /** Can this browser, at this address, ask for passkeys? Else nothing of them is shown. */
  readonly here: boolean;
  /** Ids of the people who have a passkey on this bench, as of the last look; nobody where there are none. */
  readonly known: ReadonlySet<string>;
  look(): Promise<void>;
  open(): Promise<Opened>;
}

/** Asks this person for a passkey, where that is possible at all. Null only when it is theirs and right. */
export async function passkeyFault(
  door: PasskeyDoor | undefined,
  person: string,
  now: number,
): Promise<string | null> {
  return door?.here ? (await door.open()).check(person, now) : passkeySentence('passkey-missing');
}
