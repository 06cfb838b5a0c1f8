import { useEffect, useState } from 'preact/hooks'
import { soundingAlarms } from '../../state/alarms.ts'
import { say } from '../../words/say.ts'

const spoken = new Set<string>()

/** Tells screen readers of each activation once: loud ones at once, the others when there is a pause. */
export function Announcer() {
  const [words, setWords] = useState({ loud: '', calm: '' })
  const alarms = soundingAlarms.value
  useEffect(() => {
    const fresh = alarms.filter((alarm) => !spoken.has(alarm.id))
    if (fresh.length === 0) return
    for (const alarm of fresh) spoken.add(alarm.id)
    while (spoken.size > 200) spoken.delete(spoken.values().next().value ?? '')
    const wordsOf = (isLoud: boolean): string =>
      fresh
        .filter((alarm) => (alarm.priority === 'critical' || alarm.priority === 'high') === isLoud)
        .map((alarm) => say.alarm.announce(say.alarm.priority[alarm.priority], alarm.words.what))
        .join(' ')
    setWords({ loud: wordsOf(true), calm: wordsOf(false) })
  }, [alarms])
  return (
    <>
      <p class="for-ears" role="alert">
        {words.loud}
      </p>
      <p class="for-ears" role="status">
        {words.calm}
      </p>
    </>
  )
}
