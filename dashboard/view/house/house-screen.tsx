import { useEffect, useState } from 'preact/hooks'
import type { HouseSettings } from '../../../services/contract/house-entry.ts'
import { loadDevices } from '../../state/boards.ts'
import { changeSettings, logOut } from '../../state/door.ts'
import { me } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { armSound, sound, trySound } from '../../state/sound.ts'
import { chooseTheme, theme, themes } from '../../state/theme.ts'
import { loadOverview, overview } from '../../state/told.ts'
import { wake } from '../../state/wake.ts'
import { say } from '../../words/say.ts'
import { Check, Choice, FaultBox } from '../form/field.tsx'
import { SoundState } from '../wall/sound-state.tsx'
import { Boards } from './boards.tsx'
import { Tablets } from './tablets.tsx'

/** The house: who may come in, how numbers are read, how the page looks and sounds. */
export function HouseScreen() {
  useEffect(() => {
    void loadDevices()
    void loadOverview()
  }, [])
  const [fault, setFault] = useState<string | null>(null)
  const settings = me.value?.settings
  if (settings === undefined) return <p class="page">{say.frame.loading}</p>
  const change = (next: Partial<HouseSettings>): void => void changeSettings(next).then(setFault)
  const { unitNames } = say.house
  const unit = <Name extends keyof typeof unitNames>(name: Name) => ({ name, words: unitNames[name] })
  return (
    <div class="page">
      <h1>{say.house.title}</h1>
      <FaultBox words={fault} />
      <section class="sheet">
        <h2>{say.told.title}</h2>
        {overview.value !== null && <p>{overview.value.words}</p>}
        {overview.value !== null && overview.value.ways > 0 && <p>{overview.value.drill.words}</p>}
        <div class="row">
          <a class="button button-main" href={addressOf('told')}>
            {say.told.setUp}
          </a>
          <a class="button" href={addressOf('messages')}>
            {say.told.toMessages}
          </a>
          <a class="button" href={addressOf('away')}>
            {say.told.toAway}
          </a>
        </div>
      </section>
      <div class="two">
        <Tablets />
        <Boards />
        <section class="sheet">
          <h2>{say.house.units}</h2>
          <Choice
            legend={say.house.temperature}
            isTight
            options={[unit('Cel'), unit('degF')]}
            value={settings.temperatureUnit}
            onChoose={(temperatureUnit) => change({ temperatureUnit })}
          />
          <Choice
            legend={say.house.volume}
            isTight
            options={[unit('L'), unit('gal-us'), unit('gal-imp')]}
            value={settings.volumeUnit}
            onChoose={(volumeUnit) => change({ volumeUnit })}
          />
          <Choice
            legend={say.house.hardness}
            isTight
            options={[unit('dKH'), unit('ppm')]}
            value={settings.hardnessUnit}
            onChoose={(hardnessUnit) => change({ hardnessUnit })}
          />
          <Choice
            legend={say.house.clock}
            isTight
            options={[
              { name: '24', words: say.house.clock24 },
              { name: '12', words: say.house.clock12 }
            ]}
            value={settings.clock}
            onChoose={(clock) => change({ clock })}
          />
        </section>
        <section class="sheet">
          <h2>{say.house.theme}</h2>
          <Choice
            legend={say.house.theme}
            hideLegend
            isTight
            options={themes.map((name) => ({ name, words: say.house.themes[name] }))}
            value={theme.value}
            onChoose={chooseTheme}
          />
          <h2>{say.house.sound}</h2>
          <div class="row">
            <SoundState />
            <button
              type="button"
              class="button"
              disabled={sound.value === 'impossible'}
              onClick={() => void armSound().then(trySound)}
            >
              {say.house.trySound}
            </button>
          </div>
          {wake.value !== 'kept' && <p class="soft">{say.wall.screenMaySleep}</p>}
          <h2>{say.house.network}</h2>
          <Check
            label={say.house.networkIn}
            more={say.house.networkWhat}
            isOn={settings.letHomeNetworkIn}
            onChange={(letHomeNetworkIn) => change({ letHomeNetworkIn })}
          />
          {me.value?.restartNeeded === true && <p class="fault-box">{say.house.restart}</p>}
          <Check
            label={say.house.tabletsMayTest}
            isOn={settings.tabletsMayTest}
            onChange={(tabletsMayTest) => change({ tabletsMayTest })}
          />
        </section>
      </div>
      <section class="sheet">
        <h2>{say.house.about}</h2>
        <p>{say.house.version(me.value?.version ?? '')}</p>
        <p>{say.house.aboutWhat}</p>
        <p class="soft">{isSecureContext ? say.house.appPossible : say.house.appNeedsHttps}</p>
        <p>
          <button type="button" class="button" onClick={() => void logOut()}>
            {say.house.logOut}
          </button>
        </p>
      </section>
    </div>
  )
}
