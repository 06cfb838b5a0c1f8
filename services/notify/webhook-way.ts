import { createHmac } from 'node:crypto'
import { guardedRequest, outcomeOf } from './guarded-request.ts'
import type { Letter, Send } from './letter.ts'

/** Severity numbers of the severity extension of CloudEvents, after the OpenTelemetry log levels. */
const severity = { critical: 21, high: 17, medium: 13, low: 9 } as const

/** A letter as a CloudEvents 1.0 event in structured JSON. Source and id together name the event for ever. */
export function cloudEventOf(letter: Letter, source: string): Readonly<Record<string, unknown>> {
  const { alarm } = letter
  return {
    specversion: '1.0',
    id: letter.id,
    source,
    type: `org.shoalkeeper.${letter.sort === 'alarm' ? 'alarm.raised' : letter.sort}`,
    ...(letter.tankId === null
      ? {}
      : { subject: alarm === null ? letter.tankId : `${letter.tankId}/${alarm.id}` }),
    time: new Date(letter.atMs).toISOString(),
    datacontenttype: 'application/json',
    severitytext: letter.priority.toUpperCase(),
    severitynumber: severity[letter.priority],
    data: {
      title: letter.title,
      short: letter.short,
      text: letter.full,
      tank: letter.tankId === null ? null : { id: letter.tankId, name: letter.tankName },
      alarm:
        alarm === null
          ? null
          : {
              id: alarm.id,
              kind: alarm.kind,
              subject: alarm.subject,
              state: alarm.state,
              priority: alarm.priority,
              raisedAtMs: alarm.raisedAtMs,
              clearedAtMs: alarm.clearedAtMs,
              finding: alarm.finding
            },
      link: letter.link
    }
  }
}

/** The signature: HMAC-SHA-256 over `<unix seconds>.<body>`, in hex. */
export const signatureOf = (ask: Readonly<{ secret: string; atS: number; body: string }>): string =>
  `t=${ask.atS},v1=${createHmac('sha256', ask.secret).update(`${ask.atS}.${ask.body}`).digest('hex')}`

/** A webhook for a program of the keeper's own. */
export const makeWebhookSend =
  (ports: Readonly<{ source: () => string; clock: () => number }>): Send<'webhook'> =>
  (letter, way) => {
    const body = JSON.stringify(cloudEventOf(letter, ports.source()))
    const atS = Math.floor(ports.clock() / 1000)
    return outcomeOf(
      guardedRequest({
        url: way.url,
        method: 'POST',
        headers: {
          'content-type': 'application/cloudevents+json; charset=utf-8',
          'shoalkeeper-signature': signatureOf({ secret: way.secret, atS, body })
        },
        body,
        allowPrivate: way.allowPrivate
      })
    )
  }
