import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { askedLane } from '../../state/answer.ts'

/** Where the answer behind a number opens; its code comes with the first touch. */
export function AnswerPlace() {
  const [Sheet, setSheet] = useState<ComponentType | null>(null)
  const isAsked = askedLane.value !== null
  useEffect(() => {
    if (!isAsked || Sheet !== null) return
    import('../answer/number-sheet.tsx')
      .then(({ NumberSheet }) => setSheet(() => NumberSheet))
      .catch(() => {
        askedLane.value = null
      })
  }, [isAsked])
  useEffect(
    () => () => {
      askedLane.value = null
    },
    []
  )
  return isAsked && Sheet !== null ? <Sheet /> : null
}
