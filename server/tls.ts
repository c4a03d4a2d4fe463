import { createPrivateKey, type KeyObject, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';

/** Files in PEM. */
export interface TlsFiles {
  /** The certificate, with those that vouch for it below. */
  readonly cert: string;
  readonly key: string;
}

/** What an https server is made with. */
export interface Secure {
  readonly cert: Buffer;
  readonly key: Buffer;
}

export type ReadTls =
  | { readonly ok: true; readonly secure: Secure | null }
  /** One sentence, with the cure. */
  | { readonly ok: false; readonly message: string };

const problem = (message: string): ReadTls => ({ ok: false, message });

function orNull<T>(work: () => T): T | null {
  try {
    return work();
  } catch {
    return null;
  }
}

function fits(certificate: X509Certificate, key: KeyObject): boolean {
  return orNull(() => certificate.checkPrivateKey(key)) === true;
}

/**
 * Reads certificate and key, and makes sure that they belong together.
 * @param now of the machine's clock, ms
 */
export function readTls(files: TlsFiles | null, now: number): ReadTls {
  if (files === null) return { ok: true, secure: null };
  const cert = orNull(() => readFileSync(files.cert));
  const key = orNull(() => readFileSync(files.key));
  if (!cert) return problem(`--cert: "${files.cert}" cannot be read; name the file with the certificate, in PEM.`);
  if (!key) return problem(`--key: "${files.key}" cannot be read; name the file with the certificate's key, in PEM.`);
  const certificate = orNull(() => new X509Certificate(cert));
  const privateKey = orNull(() => createPrivateKey(key));
  if (!certificate) return problem(`--cert: "${files.cert}" is not a certificate in PEM; it begins with -----BEGIN.`);
  if (!privateKey) return problem(`--key: "${files.key}" is not a key in PEM without a password.`);
  if (!fits(certificate, privateKey)) return problem('--cert and --key do not belong together: name both of one pair.');
  if (Date.parse(certificate.validTo) <= now) {
    return problem(`--cert: "${files.cert}" was good until ${certificate.validTo}; have it renewed.`);
  }
  return { ok: true, secure: { cert, key } };
}
