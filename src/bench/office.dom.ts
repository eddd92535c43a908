import type { JournalStore } from '../journal/port.ts';
import type { SigningKey } from '../journal/seal.ts';
import type { ReadsFiles } from '../sync/files.ts';
import type { LinkStatus, OfficeLink } from '../sync/link.dom.ts';
import type { RoundPorts, TakesProcedures } from '../sync/round.ts';

const JOINED = 'holdfast-office';

export interface OfficePorts {
  readonly store: JournalStore;
  key(): Promise<SigningKey>;
  now(): number;
  readonly files: ReadsFiles;
  keepWorkshop: RoundPorts['keepWorkshop'];
  /** Where procedures of the office go; fetched only when there is an office. */
  shelf(): Promise<TakesProcedures>;
  changed(): void;
  fail(error: unknown): void;
}

/** A link that a supervisor made: `#office=CODE` and, after an ampersand, the name of this bench. */
export function invitationIn(hash: string): { code: string; name: string } | null {
  const fields = new URLSearchParams(hash.replace(/^#/, ''));
  const code = fields.get('office') ?? '';
  if (!/^[0-9A-Za-z-]{1,40}$/.test(code)) return null;
  const name = (fields.get('name') ?? '').trim().slice(0, 60);
  return { code, name: name === '' ? `Bench ${crypto.randomUUID().slice(0, 4)}` : name };
}

/**
 * The bench's office, when it has one. A bench that never joined loads nothing of it, asks nothing and waits for nothing; one
 * that did works on as before when the office is away.
 */
export class BenchOffice {
  #link: OfficeLink | null = null;

  /** Opens the line that was joined before, or joins by the invitation in the address. */
  async begin(hash: string, ports: OfficePorts): Promise<void> {
    const invitation = invitationIn(hash);
    const before = joinedBefore();
    if (!invitation && !before) return;
    // The code is in no bookmark and no history.
    if (invitation) history.replaceState(null, '', location.pathname);
    try {
      const { OfficeLink } = await import('../sync/link.dom.ts');
      const all = { ...ports, shelf: await ports.shelf() };
      this.#link =
        (before ? await OfficeLink.open(all) : null) ??
        (invitation ? await OfficeLink.join(all, invitation.code, invitation.name) : null);
      if (!this.#link) return;
      localStorage.setItem(JOINED, 'yes');
      this.#link.start();
      ports.changed();
    } catch (error) {
      ports.fail(error);
    }
  }

  get link(): OfficeLink | null {
    return this.#link;
  }

  get status(): LinkStatus | null {
    return this.#link?.status ?? null;
  }

  /** How it stands, in one line for a list; null without an office. */
  get line(): string | null {
    const { status } = this;
    if (!status) return null;
    const { complaints, waiting, unfiled, reached, shutOut } = status;
    if (shutOut !== null) return shutOut;
    if (complaints.length > 0) return `${complaints.length} things for the supervisor to look at`;
    if (waiting > 0) return `${waiting} records wait${reached ? '' : ': the office does not answer'}`;
    if (unfiled > 0) return `photos or voice notes of ${unfiled} jobs wait`;
    return reached ? `everything is confirmed, as ${status.name}` : 'not reached yet';
  }

  /** Why a job cannot be worked on here; null when it can. */
  async elsewhere(job: string): Promise<string | null> {
    return (await this.#link?.elsewhere(job))
      ? 'Another bench goes on with this job: to go on here, pause it there and take it over at “The office”.'
      : null;
  }
}

function joinedBefore(): boolean {
  try {
    return localStorage.getItem(JOINED) !== null;
  } catch {
    return false;
  }
}
