import type { CDPSession, Page } from 'playwright-core';

/** A credential as the browser's virtual authenticator has it. */
export interface Credential {
  readonly credentialId: string;
  readonly isResidentCredential: boolean;
  readonly rpId?: string;
  readonly privateKey: string;
  readonly userHandle?: string;
  readonly signCount: number;
}

/**
 * An authenticator that the browser itself makes up (Chrome DevTools Protocol, domain WebAuthn): real keys, real
 * signatures, real counters, and nobody has to touch it.
 */
export class Authenticator {
  readonly #session: CDPSession;
  readonly #id: string;

  static async plugIn(page: Page, over: { readonly verifies?: boolean } = {}): Promise<Authenticator> {
    const session = await page.context().newCDPSession(page);
    await session.send('WebAuthn.enable', { enableUI: false });
    const { authenticatorId } = await session.send('WebAuthn.addVirtualAuthenticator', {
      options: {
        protocol: 'ctap2',
        transport: 'internal',
        hasResidentKey: true,
        hasUserVerification: true,
        isUserVerified: over.verifies ?? true,
        automaticPresenceSimulation: true,
      },
    });
    return new Authenticator(session, authenticatorId);
  }

  private constructor(session: CDPSession, id: string) {
    this.#session = session;
    this.#id = id;
  }

  async credentials(): Promise<Credential[]> {
    const { credentials } = await this.#session.send('WebAuthn.getCredentials', {
      authenticatorId: this.#id,
    });
    return credentials;
  }

  /** Whether the person unlocks it when they are asked to. */
  async verifies(isUserVerified: boolean): Promise<void> {
    await this.#session.send('WebAuthn.setUserVerified', { authenticatorId: this.#id, isUserVerified });
  }

  async remove(credentialId: string): Promise<void> {
    await this.#session.send('WebAuthn.removeCredential', { authenticatorId: this.#id, credentialId });
  }

  async add(credential: Credential): Promise<void> {
    await this.#session.send('WebAuthn.addCredential', {
      authenticatorId: this.#id,
      credential: { ...credential },
    });
  }

  async unplug(): Promise<void> {
    await this.#session.send('WebAuthn.removeVirtualAuthenticator', { authenticatorId: this.#id });
    await this.#session.detach();
  }
}
