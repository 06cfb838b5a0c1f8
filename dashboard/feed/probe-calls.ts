import type { AssignmentBody, AssignmentView, HeardView } from '../../services/contract/heard-entry.ts'
import type { RefusedView } from '../../services/contract/house-entry.ts'
import type {
  LimitChangesBody,
  NewCalibrationBody,
  ProbeDetail,
  StabilityView
} from '../../services/contract/probe-entry.ts'
import type { Client, Made } from './client.ts'

export type ProbeView = Readonly<{
  id: string
  tankId: string
  name: string
  firstAtMs: number
  outSinceMs: number | null
  quantities: readonly Readonly<{
    quantity: string
    leading: boolean
    lastAtMs: number | null
    lastValue: number | null
    lastFlag: number | null
    conflicts: number
  }>[]
}>

export type ProbeChange = Readonly<{
  name?: string
  leads?: string
  inTank?: boolean
  limits?: Readonly<{ quantity: string; changes: LimitChangesBody | null; reason: string }>
}>
export type Settling = 'ph' | 'ph-millivolts' | 'temperature'

const at = (text: string): string => encodeURIComponent(text)
const probe = (id: string): string => `/api/probes/${at(id)}`

/** Every question about probes, their calibrations and foreign topics. */
export function makeProbeCalls(client: Client) {
  return {
    probes: (tankId: string) => client.get<readonly ProbeView[]>(`/api/probes?tank=${at(tankId)}`),
    probe: (id: string) => client.get<ProbeDetail>(probe(id)),
    changeProbe: (id: string, change: ProbeChange) => client.send<ProbeDetail>('PATCH', probe(id), change),
    stability: (id: string, ask: Readonly<{ sinceMs: number; quantity: Settling }>) =>
      client.get<StabilityView>(`${probe(id)}/stability?sinceMs=${ask.sinceMs}&quantity=${ask.quantity}`),
    calibrate: (id: string, body: NewCalibrationBody) =>
      client.send<Made>('POST', `${probe(id)}/calibrations`, body),
    withdrawCalibration: (id: string, calibrationId: string) =>
      client.send<unknown>('DELETE', `${probe(id)}/calibrations/${at(calibrationId)}`),
    startLife: (id: string, body: Readonly<{ note?: string }>) =>
      client.send<Made>('POST', `${probe(id)}/lives`, body),
    withdrawLife: (id: string, lifeId: string) =>
      client.send<unknown>('DELETE', `${probe(id)}/lives/${at(lifeId)}`),

    heard: () => client.get<HeardView>('/api/heard'),
    assign: (body: AssignmentBody) => client.send<AssignmentView>('POST', '/api/probes', body),
    unassign: (id: string) => client.send<unknown>('DELETE', `/api/probes/assignments/${at(id)}`),
    refused: () => client.get<RefusedView>('/api/refused')
  }
}
