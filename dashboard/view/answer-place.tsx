import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { asked } from '../state/answer.ts'
import { route } from '../state/route.ts'

/** Where the answer behind a number opens; its code comes with the first touch. */
export function AnswerPlace() {
  const [Sheet, setSheet] = useState<ComponentType | null>(null)
  const isAsked = asked.value !== null
  useEffect(() => {
    if (!isAsked || Sheet !== null) return
    import('./answer/number-sheet.tsx')
      .then(({ NumberSheet }) => setSheet(() => NumberSheet))
      .catch(() => {
        asked.value = null
      })
  }, [isAsked])
  const { screen, id, tankId } = route.value
  useEffect(
    () => () => {
      asked.value = null
    },
    [screen, id, tankId]
  )
  return isAsked && Sheet !== null ? <Sheet /> : null
}
