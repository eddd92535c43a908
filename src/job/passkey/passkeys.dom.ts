import { base64url } from '../../journal/bytes.ts';
import { waitAfter, waitSentence } from '../back-off.ts';
import { type Asked, readAnswer, signedBytes, wentBack } from './answer.ts';
import { isFailure, PasskeyError, passkeySentence } from './fault.ts';
import { ALGORITHMS, isAlgorithm } from './signature.ts';
import { type KeptPasskey, PasskeyStore } from './store.dom.ts';
import { signatureFits } from './verify-signature.dom.ts';

/** The browser asks no longer than this, ms. */
const TIMEOUT_MS = 60_000;

const bytesOf = (buffer: ArrayBuffer): Uint8Array<ArrayBuffer> => new Uint8Array(buffer);

/** The browser's own errors in our words: what it says to the page about a person is little, on purpose. */
function faultOf(error: unknown): unknown {
  if (!(error instanceof DOMException)) return error;
  switch (error.name) {
    case 'InvalidStateError':
      return new PasskeyError('passkey-twice', error);
    case 'SecurityError':
    case 'NotSupportedError':
      return new PasskeyError('passkey-missing', error);
    default:
      return new PasskeyError('passkey-cancelled', error);
  }
}

/**
 * Passkeys of the people of this bench. There is no server: the page itself asks with a challenge of its own, and verifies
 * the answer against the public key that it kept. That shows that whoever answers holds the authenticator and was
 * verified by it (PIN, finger or face); against somebody who can change the page it shows nothing, as with a PIN.
 */
export class Passkeys {
  readonly #store: PasskeyStore;
  #asking: AbortController | null = null;

  /** `name` is the prefix of the database. */
  constructor(name = 'holdfast') {
    this.#store = new PasskeyStore(name);
  }

  /** Ids of the people who have one. */
  async holders(): Promise<ReadonlySet<string>> {
    return new Set((await this.#store.all()).map(({ person }) => person));
  }

  of(person: string): Promise<readonly KeptPasskey[]> {
    return this.#store.of(person);
  }

  remove(id: string): Promise<void> {
    return this.#store.remove(id);
  }

  /** Enrols a passkey. `now` in ms since 1970. @throws PasskeyError when none was shown or it is not as it must be */
  async enrol(person: { readonly id: string; readonly name: string }, now: number): Promise<void> {
    const known = await this.#store.of(person.id);
    const { asked, challenge, signal } = this.#ask('webauthn.create');
    const options: PublicKeyCredentialCreationOptions = {
      challenge,
      rp: { id: location.hostname, name: 'Holdfast' },
      // The name is kept by the authenticator, so that its owner can tell passkeys apart; the id says nothing.
      user: { id: random(32), name: person.name, displayName: person.name },
      pubKeyCredParams: Object.values(ALGORITHMS).map((alg) => ({ type: 'public-key', alg })),
      authenticatorSelection: { userVerification: 'required', residentKey: 'preferred' },
      attestation: 'none',
      excludeCredentials: known.map(described),
      timeout: TIMEOUT_MS,
    };
    const credential = await this.#shown(() => navigator.credentials.create({ publicKey: options, signal }));
    const { response } = credential;
    if (!(response instanceof AuthenticatorAttestationResponse)) throw new PasskeyError('passkey-unreadable');
    const read = readAnswer(
      bytesOf(response.clientDataJSON),
      bytesOf(response.getAuthenticatorData()),
      asked(),
    );
    if (read.code) throw new PasskeyError(read.code);
    const publicKey = response.getPublicKey();
    const alg = response.getPublicKeyAlgorithm();
    const id = base64url.encode(bytesOf(credential.rawId));
    const { credentialId, signCount } = read.data;
    if (!publicKey || !isAlgorithm(alg) || !credentialId || base64url.encode(credentialId) !== id)
      throw new PasskeyError('passkey-unreadable');
    const transports = response.getTransports();
    await this.#store.add({
      id,
      person: person.id,
      publicKey: bytesOf(publicKey),
      alg,
      signCount,
      copied: false,
      transports,
      enrolledAt: now,
    });
  }

  /** Asks the person for a passkey of theirs. Null when it is theirs and right; else one sentence that says what to do. */
  async check(person: string, now: number): Promise<string | null> {
    const { waitUntil } = await this.#store.tries(person);
    if (now < waitUntil) return waitSentence(Math.ceil((waitUntil - now) / 1000));
    try {
      await this.#verify(person);
    } catch (error) {
      if (!(error instanceof PasskeyError)) throw error;
      if (isFailure(error.code))
        await this.#store.tried(person, ({ failures }) => ({
          failures: failures + 1,
          waitUntil: now + waitAfter(failures + 1),
        }));
      return passkeySentence(error.code);
    }
    await this.#store.tried(person, () => ({ failures: 0, waitUntil: 0 }));
    return null;
  }

  async #verify(person: string): Promise<void> {
    const known = await this.#store.of(person);
    if (known.length === 0) throw new PasskeyError('passkey-unknown');
    const { asked, challenge, signal } = this.#ask('webauthn.get');
    const options: PublicKeyCredentialRequestOptions = {
      challenge,
      rpId: location.hostname,
      allowCredentials: known.map(described),
      userVerification: 'required',
      timeout: TIMEOUT_MS,
    };
    const credential = await this.#shown(() => navigator.credentials.get({ publicKey: options, signal }));
    const { response } = credential;
    if (!(response instanceof AuthenticatorAssertionResponse)) throw new PasskeyError('passkey-unreadable');
    const kept = known.find(({ id }) => id === base64url.encode(bytesOf(credential.rawId)));
    if (!kept) throw new PasskeyError('passkey-other');
    const clientData = bytesOf(response.clientDataJSON);
    const authenticatorData = bytesOf(response.authenticatorData);
    const read = readAnswer(clientData, authenticatorData, asked());
    if (read.code) throw new PasskeyError(read.code);
    const signed = signedBytes(clientData, authenticatorData);
    if (!(await signatureFits(kept.publicKey, kept.alg, bytesOf(response.signature), signed)))
      throw new PasskeyError('passkey-signature');
    await this.#count(kept.id, read.data.signCount);
  }

  /** Takes the counter on; in one transaction, so that the same answer cannot count twice in two windows. */
  async #count(id: string, signCount: number): Promise<void> {
    const kept = await this.#store.change(id, (now) => {
      if (now.copied) return null;
      return wentBack(now.signCount, signCount) ? { ...now, copied: true } : { ...now, signCount };
    });
    if (!kept) throw new PasskeyError('passkey-unknown');
    if (kept.copied || wentBack(kept.signCount, signCount)) throw new PasskeyError('passkey-copied');
  }

  /** A question with a challenge of its own; one that is still open is taken back. */
  #ask(type: Asked['type']) {
    this.#asking?.abort();
    this.#asking = new AbortController();
    const challenge = random(32);
    const from = performance.now();
    const asked = (): Asked => ({
      type,
      challenge: base64url.encode(challenge),
      origin: location.origin,
      rpId: location.hostname,
      age: performance.now() - from,
    });
    return { asked, challenge, signal: this.#asking.signal };
  }

  async #shown(ask: () => Promise<Credential | null>): Promise<PublicKeyCredential> {
    const credential = await ask().catch((error: unknown) => {
      throw faultOf(error);
    });
    if (credential instanceof PublicKeyCredential) return credential;
    throw new PasskeyError('passkey-cancelled');
  }
}

const random = (bytes: number): Uint8Array<ArrayBuffer> => crypto.getRandomValues(new Uint8Array(bytes));

const described = ({ id, transports }: KeptPasskey): PublicKeyCredentialDescriptor => ({
  type: 'public-key',
  id: Uint8Array.from(base64url.decode(id)),
  transports: transports as AuthenticatorTransport[],
});
