import { createHash } from 'node:crypto';
import { compactVerify, importJWK } from 'jose';

// How somebody who has never seen this project checks a record file: SHA-256 and a JOSE library, nothing of ours.

/** Checks chain and seal of a record file. Returns what the seal says. Throws an Error that names the line. */
export async function checkAsStranger(file: string): Promise<unknown> {
  const lines = file.split('\n');
  if (lines.pop() !== '') throw new Error('The last line has no end.');
  const seal = JSON.parse(lines.pop() ?? '').seal as string;

  let prev = '0'.repeat(64);
  for (const [seq, line] of lines.entries()) {
    const record = JSON.parse(line);
    // Keys are in order, so the record without its hash is the line with that one member cut out of it.
    const member = `"hash":"${record.hash}",`;
    const cut = line.lastIndexOf(`${member}"job":`);
    const rest = line.slice(0, cut) + line.slice(cut + member.length);
    const hash = createHash('sha256').update(rest, 'utf8').digest('hex');
    if (cut < 0 || hash !== record.hash) throw new Error(`Line ${seq + 1}: wrong hash.`);
    if (record.seq !== seq || record.prev !== prev) throw new Error(`Line ${seq + 1}: does not follow.`);
    prev = hash;
  }

  const { jwk, kid } = JSON.parse(Buffer.from(seal.split('.')[0] ?? '', 'base64url').toString());
  const { payload } = await compactVerify(seal, await importJWK(jwk, 'ES256'));
  const says = JSON.parse(new TextDecoder().decode(payload));
  if (says.count !== lines.length || says.head !== prev) throw new Error('The seal closes another record.');
  // RFC 7638: the thumbprint is the SHA-256 of the key's members in order.
  const members = `{"crv":"${jwk.crv}","kty":"${jwk.kty}","x":"${jwk.x}","y":"${jwk.y}"}`;
  if (createHash('sha256').update(members).digest('base64url') !== kid) throw new Error('Wrong key id.');
  return says;
}
