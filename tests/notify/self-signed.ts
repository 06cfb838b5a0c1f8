import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A fresh certificate for this machine alone, good for a day, made by openssl. */
export function selfSigned(): Readonly<{ key: string; cert: string }> {
  const folder = mkdtempSync(join(tmpdir(), 'cert-'))
  const [key, cert] = [join(folder, 'key.pem'), join(folder, 'cert.pem')]
  try {
    execFileSync(
      'openssl',
      [
        'req',
        '-x509',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:P-256',
        '-nodes',
        '-days',
        '1',
        '-subj',
        '/CN=127.0.0.1',
        '-addext',
        'subjectAltName=IP:127.0.0.1',
        '-keyout',
        key,
        '-out',
        cert
      ],
      { stdio: 'ignore' }
    )
    return { key: readFileSync(key, 'utf8'), cert: readFileSync(cert, 'utf8') }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
