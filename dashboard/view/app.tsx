import type { ComponentType } from 'preact'
import { useEffect, useLayoutEffect, useState } from 'preact/hooks'
import { isAway, isLoaded, loadHouse, me, reader, tanks } from '../state/house.ts'
import { watchOthers } from '../state/other-tanks.ts'
import { reloadOnce } from '../state/reload.ts'
import { route, type Screen, tankId } from '../state/route.ts'
import { watchTank } from '../state/watch.ts'
import { say } from '../words/say.ts'
import { AnswerPlace } from './answer-place.tsx'
import { Nav } from './nav.tsx'
import { ToastBar } from './toast-bar.tsx'
import { Announcer } from './wall/announcer.tsx'
import { NowScreen } from './wall/now-screen.tsx'

/** Every screen but the wall is loaded when it is first opened. */
const later: Readonly<Record<Exclude<Screen, 'now'>, () => Promise<ComponentType>>> = {
  alarms: async () => (await import('./alarms-screen.tsx')).AlarmsScreen,
  alarm: async () => (await import('./alarm-screen.tsx')).AlarmScreen,
  'looks-wrong': async () => (await import('./looks-wrong/looks-wrong-screen.tsx')).LooksWrongScreen,
  night: async () => (await import('./night/night-screen.tsx')).NightScreen,
  tests: async () => (await import('./tests/tests-screen.tsx')).TestsScreen,
  diary: async () => (await import('./diary/diary-screen.tsx')).DiaryScreen,
  upkeep: async () => (await import('./upkeep/upkeep-screen.tsx')).UpkeepScreen,
  probes: async () => (await import('./probes/probes-screen.tsx')).ProbesScreen,
  calibrate: async () => (await import('./calibrate/calibrate-screen.tsx')).CalibrateScreen,
  heard: async () => (await import('./probes/heard-screen.tsx')).HeardScreen,
  'work-it-out': async () => (await import('./work-it-out/work-screen.tsx')).WorkScreen,
  tank: async () => (await import('./tank-screen.tsx')).TankScreen,
  house: async () => (await import('./house/house-screen.tsx')).HouseScreen,
  told: async () => (await import('./told/told-screen.tsx')).ToldScreen,
  messages: async () => (await import('./told/messages-screen.tsx')).MessagesScreen,
  away: async () => (await import('./told/away-screen.tsx')).AwayScreen,
  card: async () => (await import('./told/card-screen.tsx')).CardScreen,
  setup: async () => (await import('./setup/setup-screen.tsx')).SetupScreen,
  login: async () => (await import('./login-screen.tsx')).LoginScreen,
  join: async () => (await import('./join-screen.tsx')).JoinScreen
}

/** What this visitor must see first: joining, the set-up, the log-in; then what was asked for. */
function screenToShow(): Screen {
  const { screen } = route.value
  if (screen === 'join' || screen === 'work-it-out') return screen
  if (me.value?.setupDone === false) return 'setup'
  if (me.value?.role == null) return 'login'
  return screen === 'login' ? 'now' : screen
}

export function App() {
  const watched = me.value?.role == null ? null : tankId.value
  // The sentences of the house come in the units of the household: other units, asked anew.
  const { temperatureUnit, hardnessUnit, volumeUnit, clock } = reader.value
  // Before anything is painted: the present may have come already, and is painted at once.
  useLayoutEffect(() => {
    if (watched === null) return
    return watchTank(watched)
  }, [watched, temperatureUnit, hardnessUnit, volumeUnit, clock])
  const count = tanks.value.length
  useEffect(
    () => (watched === null || count < 2 ? undefined : watchOthers(watched)),
    [watched, count, temperatureUnit, hardnessUnit, volumeUnit, clock]
  )
  useEffect(() => {
    const timer = setInterval(() => isAway.value && void loadHouse(), 4_000)
    return () => clearInterval(timer)
  }, [])

  if (!isLoaded.value) return <Waiting />
  const screen = screenToShow()
  const hasFrame = !(
    screen === 'join' ||
    me.value?.role == null ||
    screen === 'login' ||
    (screen === 'setup' && tanks.value.length === 0)
  )
  return (
    <>
      <button type="button" class="skip" onClick={() => document.getElementById('page')?.focus()}>
        {say.frame.skip}
      </button>
      <main
        id="page"
        tabIndex={-1}
        class={screen === 'now' && tanks.value.length > 0 ? 'main main-wall' : 'main'}
      >
        {screen === 'now' ? <NowScreen /> : <Later key={screen} screen={screen} />}
      </main>
      <ToastBar />
      {hasFrame && <Nav />}
      <Announcer />
      <AnswerPlace />
    </>
  )
}

function Waiting() {
  return (
    <main class="main page page-narrow" aria-live="polite">
      <h1>{isAway.value ? say.frame.away : say.frame.loading}</h1>
      {isAway.value && (
        <>
          <p>{say.frame.awayWhat}</p>
          <button type="button" class="button" onClick={() => void loadHouse()}>
            {say.frame.tryAgain}
          </button>
        </>
      )}
    </main>
  )
}

function Later({ screen }: Readonly<{ screen: Exclude<Screen, 'now'> }>) {
  const [Loaded, setLoaded] = useState<ComponentType | 'failed' | null>(null)
  const load = (): void => {
    setLoaded(null)
    later[screen]()
      .then((component) => setLoaded(() => component))
      .catch(async () => {
        if (!(await reloadOnce())) setLoaded('failed')
      })
  }
  useEffect(load, [])
  if (Loaded === null) return <p class="page">{say.frame.loading}</p>
  if (Loaded === 'failed')
    return (
      <div class="page page-narrow" role="alert">
        <h1>{say.frame.broken}</h1>
        <button type="button" class="button" onClick={load}>
          {say.frame.tryAgain}
        </button>
      </div>
    )
  return <Loaded />
}
