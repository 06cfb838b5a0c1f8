import { z } from 'zod'
import { calculatorNames, calculators } from '../contract/calculators.ts'
import { HouseError } from '../errors.ts'
import type { Door } from './api-parts.ts'

const calculatorView = z.object({
  name: z.string(),
  title: z.string(),
  formula: z.string(),
  source: z.string(),
  validRange: z.string(),
  cautions: z.array(z.string()),
  example: z.record(z.string(), z.unknown())
})

/** Every formula by its name, for anyone who asks: no session, nothing stored. */
export function addCalculateRoutes(door: Door): void {
  door.get(
    '/api/calculate',
    {
      schema: {
        summary: 'The formulas there are, with source and range',
        response: { 200: z.array(calculatorView) }
      }
    },
    async () =>
      calculatorNames.map((name) => {
        const { title, formula, source, validRange, cautions, example } = calculators[name]
        return { name, title, formula, source, validRange, cautions: [...cautions], example: { ...example } }
      })
  )

  for (const name of calculatorNames) {
    const { title, source, validRange, body, answer, run } = calculators[name]
    door.post(
      `/api/calculate/${name}`,
      {
        schema: {
          summary: title,
          description: `Holds for: ${validRange || 'any input'}. Source: ${source}`,
          body,
          response: { 200: answer }
        }
      },
      async (request) => run(request.body) as never
    )
  }

  door.post(
    '/api/calculate/:name',
    { schema: { hide: true, params: z.object({ name: z.string() }) } },
    async () => {
      throw new HouseError(
        'API_NOT_FOUND',
        `There is no formula of this name. There are: ${calculatorNames.join(', ')}.`
      )
    }
  )
}
