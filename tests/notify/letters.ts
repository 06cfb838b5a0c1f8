import type { Letter } from '../../services/notify/letter.ts'
import { alarmView, nightMs } from './people.ts'

/** A letter about cold water, as it goes out at ten past two. */
export const letter = (given: Partial<Letter> = {}): Letter => ({
  id: 'a1.1764033000000.anna',
  sort: 'alarm',
  atMs: nightMs,
  priority: 'high',
  title: 'Act soon: Küche, water cold',
  short: 'Küche: water 19.8 °C falling 0.6 °C/h, since 02:10. Is the heater plugged in?',
  full: 'The water is 19.8 °C.\n\nDo now:\n- Is the heater plugged in?\n',
  link: 'http://192.168.1.5:4680/a/token',
  tankId: 'kitchen',
  tankName: 'Küche',
  alarm: alarmView({ priority: 'high' }),
  ...given
})
