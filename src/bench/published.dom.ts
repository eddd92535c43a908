import type { Listed } from '../../procedures/index.ts';
import { Database } from '../journal/database.dom.ts';
import { hashOf } from '../journal/hash.ts';
import type { Author } from '../journal/published.ts';
import type { Definition } from '../procedure/definition.ts';
import type { Revision } from '../procedure/publish/published.ts';

/** A published revision that this bench has taken. */
export interface KeptRevision extends Listed {
  readonly hash: string;
  readonly author: Author;
  /** RFC 3339. */
  readonly publishedAt: string;
}

/** An author whose procedures this bench takes. */
export interface EnrolledAuthor extends Author {
  /** ms since 1970 */
  readonly enrolledAt: number;
  /** Id of the supervisor. */
  readonly enrolledBy: string;
}

/** Published procedures and their authors on this bench. */
export interface PublishedShelf {
  /** What was taken, as of the last look. */
  readonly kept: readonly KeptRevision[];
  readonly authors: readonly EnrolledAuthor[];
  /** Looks at what is stored. */
  look(): Promise<void>;
  keep(revision: Revision, author: Author, publishedAt: string): Promise<void>;
  enrol(author: EnrolledAuthor): Promise<void>;
  /** Takes nothing more from this author; what was taken stays. */
  withdraw(kid: string): Promise<void>;
}

interface Stored {
  readonly id: string;
  readonly title: string;
  readonly revision: number;
  readonly hash: string;
  readonly author: Author;
  readonly publishedAt: string;
  readonly definition: Definition;
}

const asked = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** What was stored is held against its hash each time that it is used: a job must not begin with something else. */
function listed({ definition, ...shown }: Stored): KeptRevision {
  return {
    ...shown,
    load: async () => {
      if (hashOf(definition) === shown.hash) return definition;
      throw new Error(
        `What is stored of “${shown.title}” is not what was published: load its file again, and have the supervisor look.`,
      );
    },
  };
}

export function browserPublished(name = 'holdfast'): PublishedShelf {
  const database = new Database(`${name}-published`, 'revisions', 'authors');
  const inStore = <T>(mode: IDBTransactionMode, store: string, work: (store: IDBObjectStore) => Promise<T>) =>
    database.use(mode, (first) => work(first.transaction.objectStore(store)));
  let kept: readonly KeptRevision[] = [];
  let authors: readonly EnrolledAuthor[] = [];

  const shelf: PublishedShelf = {
    get kept() {
      return kept;
    },
    get authors() {
      return authors;
    },
    async look() {
      const stored = await inStore('readonly', 'revisions', (store) => asked<Stored[]>(store.getAll()));
      kept = stored.map(listed);
      authors = await inStore('readonly', 'authors', (store) => asked<EnrolledAuthor[]>(store.getAll()));
    },
    async keep({ definition, hash }, author, publishedAt) {
      const { id, meta } = definition;
      const entry: Stored = {
        id,
        title: meta.title,
        revision: meta.revision,
        hash,
        author,
        publishedAt,
        definition,
      };
      // Added and never put: what is there under this number stays. The very same again is no fault.
      await inStore('readwrite', 'revisions', async (store) => {
        const key = `${id} ${meta.revision}`;
        const there = await asked<Stored | undefined>(store.get(key));
        if (!there) await asked(store.add(entry, key));
        else if (there.hash !== hash) throw new DOMException('Another revision is there.', 'ConstraintError');
      });
      await shelf.look();
    },
    async enrol(author) {
      await inStore('readwrite', 'authors', (store) => asked(store.put(author, author.kid)));
      await shelf.look();
    },
    async withdraw(kid) {
      await inStore('readwrite', 'authors', (store) => asked(store.delete(kid)));
      await shelf.look();
    },
  };
  return shelf;
}
