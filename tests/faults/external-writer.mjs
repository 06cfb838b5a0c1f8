// Listens at a broker and keeps what comes, until it is killed: url, data folder, MQTT version.
import { openExternalBroker } from '../../dist/services/broker/external-broker.js'
import { makeMessageWay } from '../../dist/services/commands/message-way.js'
import { makeAdmission } from '../../dist/services/intake/admit.js'
import { openRecord } from '../../dist/services/store/open-record.js'

const [, , url, dataDir, version] = process.argv
const quiet = () => undefined
const record = await openRecord({ dataDir, commitWindowMs: 20 })
const way = makeMessageWay({
  record,
  desk: { readingsStored: async () => undefined, lastKnown: quiet },
  admission: makeAdmission(),
  foreign: { of: () => [], hear: quiet },
  onJudgingFailed: quiet
})
openExternalBroker({
  address: { url, username: null, password: null },
  clientId: 'shoal-writer',
  version: Number(version),
  onMessage: way.receive,
  onConnectionChange: ({ connected }) => {
    if (connected) process.stdout.write('connected\n')
  },
  log: { debug: quiet, info: quiet, warn: quiet, error: quiet },
  chance: () => 0
})
