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
import { startPulse } from './state/pulse.ts'
import { startPushTouches } from './state/push-here.ts'
import { startRoute } from './state/route.ts'
import { startSound } from './state/sound.ts'
import { isNight, startTheme } from './state/theme.ts'
import { App } from './view/app.tsx'

startPulse()
startRoute()
startTheme()
startOutbox()
startPushTouches()
startSound({ urgent: () => soundingAlarms.value, isNight: () => isNight.value })

const place = document.getElementById('house')
if (place !== null) render(<App />, place)
