import { parentPort } from 'node:worker_threads'
import { register } from 'tsx/esm/api'

// A thread has to be taught TypeScript anew.
register()
const { doDetectJob } = await import('./detect-job.ts')
parentPort.on('message', (job) => parentPort.postMessage(doDetectJob(job)))
