import './style/tokens.css'
import './style/base.css'
import './style/parts.css'
import './style/frame.css'
import './style/pages.css'
import './style/wall.css'
import './style/lane.css'
import './style/strip.css'
import './style/wall-large.css'
import './style/wall-narrow.css'
import { render } from 'preact'
import { soundingAlarms } from './state/alarms.ts'
import { startOutbox } from './state/entries.ts'
import { loadHouse } from './state/house.ts'
import { startPulse } from './state/pulse.ts'
import { startPushTouches } from './state/push-here.ts'
import { startRoute } from './state/route.ts'
import { startSound } from './state/sound.ts'
import { isNight, startTheme } from './state/theme.ts'
import { App } from './view/app.tsx'

const patienceMs = 400
const firstAnswer = loadHouse()

startPulse()
startRoute()
startTheme()
startOutbox()
startPushTouches()
startSound({ urgent: () => soundingAlarms.value, isNight: () => isNight.value })

// The house answers at once as a rule: then the wall is the first thing that is drawn, and drawn once.
void Promise.race([firstAnswer, new Promise((done) => setTimeout(done, patienceMs))]).then(() => {
  const place = document.getElementById('house')
  place?.replaceChildren()
  if (place !== null) render(<App />, place)
})
