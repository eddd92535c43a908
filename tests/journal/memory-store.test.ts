import { MemoryStore } from './memory-store.ts';
import { storeContract } from './store-contract.ts';

storeContract(() => new MemoryStore());
