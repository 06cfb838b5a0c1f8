import { accessSync, constants, mkdirSync } from 'node:fs'
import { createRequire } from 'node:module'
import { createServer } from 'node:net'
import { HouseError } from '../errors.ts'

type Plan = Readonly<{
  dataDir: string
  listens: readonly Readonly<{ host: string; port: number; variable: string }>[]
}>

/** Checks all that a start needs; the first fault is refused with the one line that mends it. */
export async function checkBeforeStart(plan: Plan): Promise<void> {
  checkNode(process.versions.node)
  checkSqlite()
  checkFolder(plan.dataDir)
  for (const listen of plan.listens) if (listen.port !== 0) await checkPort(listen)
}

/** Node 20.20 is the oldest that all parts were tried on. */
export function checkNode(version: string): void {
  const [major = 0, minor = 0] = version.split('.').map(Number)
  if (major > 20 || (major === 20 && minor >= 20)) return
  throw new HouseError(
    'START_NODE_TOO_OLD',
    `this is Node ${version}; install Node 20.20 or newer, then run: npm ci`
  )
}

function checkSqlite(): void {
  try {
    const Database = createRequire(import.meta.url)('better-sqlite3') as new (
      path: string
    ) => { close(): void }
    new Database(':memory:').close()
  } catch (cause) {
    throw new HouseError(
      'START_SQLITE_MISSING',
      'better-sqlite3 is not compiled for this Node; on Debian run: sudo apt-get install -y python3 make g++ && npm rebuild better-sqlite3',
      {},
      cause
    )
  }
}

function checkFolder(dataDir: string): void {
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 })
    accessSync(dataDir, constants.R_OK | constants.W_OK | constants.X_OK)
  } catch (cause) {
    throw new HouseError(
      'START_FOLDER_UNWRITABLE',
      `the data folder "${dataDir}" cannot be written; run: sudo chown "$USER" "${dataDir}", or set DATA_DIR to another folder`,
      {},
      cause
    )
  }
}

async function checkPort({ host, port, variable }: Plan['listens'][number]): Promise<void> {
  const fault = await new Promise<NodeJS.ErrnoException | null>((done) => {
    const probe = createServer()
    probe.once('error', (error) => done(error))
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => done(null)))
  })
  if (fault === null) return
  const why =
    fault.code === 'EADDRINUSE'
      ? `port ${port} is already in use (another watch or broker?)`
      : fault.code === 'EACCES'
        ? `port ${port} needs more rights than this user has`
        : fault.code === 'EADDRNOTAVAIL'
          ? `this machine has no address ${host}`
          : `port ${port} cannot be opened (${fault.code ?? fault.message})`
  throw new HouseError(
    'START_PORT_TAKEN',
    `${why}; stop the other program, or run: ${variable}=${port + 1} npm start`
  )
}
