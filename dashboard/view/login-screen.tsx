import { useState } from 'preact/hooks'
import { logIn } from '../state/door.ts'
import { addressOf } from '../state/route.ts'
import { say } from '../words/say.ts'
import { Check, FaultBox, Field, Form } from './form/field.tsx'

export function LoginScreen() {
  const [password, setPassword] = useState('')
  const [isShown, setShown] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  async function enter(): Promise<void> {
    setBusy(true)
    setFault(await logIn(password))
    setBusy(false)
  }
  return (
    <div class="page page-narrow">
      <h1>{say.login.title}</h1>
      <Form onSubmit={() => void enter()}>
        <Field
          label={say.login.password}
          type={isShown ? 'text' : 'password'}
          autoComplete="current-password"
          value={password}
          onInput={setPassword}
        />
        <Check label={say.login.show} isOn={isShown} onChange={setShown} />
        <FaultBox words={fault} />
        <button type="submit" class="button button-main" disabled={isBusy || password === ''}>
          {say.login.enter}
        </button>
      </Form>
      <p class="soft">{say.login.forgotten}</p>
      <p>
        <a class="tall-link" href={addressOf('work-it-out', null)}>
          {say.login.workItOut}
        </a>
      </p>
    </div>
  )
}
