import { alarm } from './english/alarm.ts'
import { calibrate } from './english/calibrate.ts'
import { diary, entry, tests } from './english/entries.ts'
import { heard } from './english/heard.ts'
import { frame, house, join, login, problem } from './english/house.ts'
import { looksWrong } from './english/looks-wrong.ts'
import { probes } from './english/probes.ts'
import { setup, tank } from './english/tank.ts'
import { away, messages, told, upkeep } from './english/told.ts'
import { wall } from './english/wall.ts'

/** Everything this page says. Another language is another object of this shape. */
export const say = {
  alarm,
  away,
  calibrate,
  diary,
  entry,
  frame,
  heard,
  house,
  join,
  login,
  looksWrong,
  messages,
  probes,
  problem,
  setup,
  tank,
  tests,
  told,
  upkeep,
  wall
} as const
