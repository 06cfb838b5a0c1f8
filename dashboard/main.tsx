import './style/tokens.css'
import './style/base.css'
import './style/parts.css'
import './style/behind.css'
import './style/frame.css'
import './style/pages.css'
import './style/wall.css'
import './style/lane.css'
import './style/strip.css'
import './style/wall-large.css'
import './style/wall-narrow.css'
import { render } from 'preact'
import { readFirstAnswers } from './feed/early.ts'
import { afterPaint } from './state/after-paint.ts'
import { soundingAlarms } from './state/alarms.ts'
import { startOutbox } from './state/entries.ts'
import { loadHouse } from './state/house.ts'
import { startPulse } from './state/pulse.ts'
import { startPushTouches } from './state/push-here.ts'
import { startRoute, tankId } from './state/route.ts'
import { startSound } from './state/sound.ts'
import { isNight, startTheme } from './state/theme.ts'
import { foresee } from './state/watch.ts'
import { App } from './view/app.tsx'
import { learnZone } from './words/zone-clock.ts'

const patienceMs = 400
for (const zone of readFirstAnswers(document)) learnZone(zone)
startRoute()

/** Who we are, which tanks there are, and how the one to be shown stands. */
async function firstAnswers(): Promise<void> {
  await loadHouse()
  if (tankId.value !== null) await foresee(tankId.value)
}

// As a rule the answers came with the page: then the wall is the first thing that is drawn, and drawn once.
void Promise.race([firstAnswers(), new Promise((done) => setTimeout(done, patienceMs))]).then(() => {
  startTheme()
  const place = document.getElementById('house')
  place?.replaceChildren()
  if (place !== null) render(<App />, place)
  // What can wait until the numbers stand.
  afterPaint(() => {
    startPulse()
    startOutbox()
    startPushTouches()
    startSound({ urgent: () => soundingAlarms.value, isNight: () => isNight.value })
  })
})
