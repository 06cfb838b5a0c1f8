import { armSound, sound } from '../../state/sound.ts'
import { say } from '../../words/say.ts'

/** Whether an alarm can be heard here, in words, and the touch that makes it so. */
export function SoundState() {
  if (sound.value === 'armed')
    return (
      <p class="sound-state">
        <Horn on />
        {say.wall.soundArmed}
      </p>
    )
  if (sound.value === 'impossible')
    return (
      <p class="sound-state">
        <Horn />
        {say.wall.soundImpossible}
      </p>
    )
  return (
    <button type="button" class="sound-state sound-arm" onClick={() => void armSound()}>
      <Horn />
      {say.wall.soundNotArmed}
    </button>
  )
}

function Horn({ on = false }: Readonly<{ on?: boolean }>) {
  return (
    <svg class="mark" width="22" height="22" viewBox="0 0 24 24" aria-hidden="true">
      <path d="M3 9v6h4l6 5V4L7 9z" fill="currentColor" />
      <path
        d={on ? 'M16 8c2 2 2 6 0 8M19 5c4 4 4 10 0 14' : 'M16 9l6 6M22 9l-6 6'}
        fill="none"
        stroke="currentColor"
        stroke-width="2.2"
        stroke-linecap="round"
      />
    </svg>
  )
}
