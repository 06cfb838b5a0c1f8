import { changedSettings, houseSettings } from '../contract/house-entry.ts'
import type { ApiParts, Door } from './api-parts.ts'

/** How this household reads numbers, and whether the home network may come in. */
export function addSettingsRoutes(door: Door, { house, log }: ApiParts): void {
  door.get(
    '/api/settings',
    { schema: { summary: 'Settings of the house', response: { 200: houseSettings } } },
    async () => house.settings()
  )

  door.put(
    '/api/settings',
    {
      schema: {
        summary: 'Change settings of the house; what is left out stays',
        body: changedSettings,
        response: { 200: houseSettings }
      }
    },
    async (request) => {
      const settings = await house.change(request.body)
      log.info({ event: 'settings-changed', names: Object.keys(request.body) })
      return settings
    }
  )
}
