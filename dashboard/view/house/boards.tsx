import { useState } from 'preact/hooks'
import { boards, endBoard, makeBoard } from '../../state/boards.ts'
import { tanks } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { FaultBox, Field, Form } from '../form/field.tsx'

/** Names and passwords with which boards publish. */
export function Boards() {
  const [name, setName] = useState('')
  const [made, setMade] = useState<Readonly<{ name: string; password: string }> | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const all = tanks.value
  async function ask(): Promise<void> {
    const outcome = await makeBoard({ name: name.trim(), tankIds: all.map((tank) => tank.id) })
    setFault(outcome.kind === 'refused' ? outcome.words : null)
    if (outcome.kind === 'made') {
      setMade(outcome)
      setName('')
    }
  }
  return (
    <section class="sheet">
      <h2>{say.house.boards}</h2>
      <p class="soft">{say.house.boardsWhat}</p>
      <ul class="list">
        {(boards.value ?? []).map((board) => (
          <li key={board.id}>
            <b class="grow">{board.name}</b>
            <button
              type="button"
              class="button button-quiet"
              aria-label={`${say.house.end}: ${board.name}`}
              onClick={() => void endBoard(board.id).then(setFault)}
            >
              {say.house.end}
            </button>
          </li>
        ))}
      </ul>
      {boards.value !== null && boards.value.length === 0 && <p>{say.house.noBoards}</p>}
      <Form onSubmit={() => void ask()}>
        <Field label={say.house.boardName} hint={say.house.boardNameHint} value={name} onInput={setName} />
        <FaultBox words={fault} />
        <p>
          <button type="submit" class="button" disabled={name.trim() === '' || all.length === 0}>
            {say.house.addBoard}
          </button>
        </p>
      </Form>
      {made !== null && (
        <div role="status" class="stack">
          <p>
            <b>{made.name}</b>. {say.house.boardSecret}
          </p>
          <CopyLine text={made.password} />
          <p class="soft">{say.house.boardOnce}</p>
        </div>
      )}
    </section>
  )
}
