import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { calculatorNames } from '../../services/contract/calculators.ts'
import { type House, openTestHouse } from './open-house.ts'

let house: House
beforeAll(async () => {
  house = await openTestHouse({ isSetUp: false })
})
afterAll(() => house.close())

const calculate = (name: string, body: unknown) => house.ask('POST', `/api/calculate/${name}`, { body })

describe('a formula', () => {
  it('answers anyone, before any set-up, with the published fraction', async () => {
    // Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379, table 3: 25 degC, pH 8.0 gives 5.38 % un-ionised.
    const { status, body } = await calculate('unionised-ammonia', { tan: 1, basis: 'N', tempC: 25, pH: 8 })
    expect(status).toBe(200)
    expect((body as { fraction: number }).fraction * 100).toBeCloseTo(5.38, 1)
  })

  it('is listed with its source, and its own example works', async () => {
    const { body } = await house.ask('GET', '/api/calculate')
    const listed = body as { name: string; source: string; example: object }[]
    expect(listed.map((one) => one.name)).toEqual(calculatorNames)
    for (const { name, source, example } of listed) {
      expect(source.length, name).toBeGreaterThan(5)
      const answer = await calculate(name, example)
      expect(answer.status, `${name}: ${answer.text}`).toBe(200)
      expect(answer.text).not.toMatch(/null,null,null|NaN|Infinity/)
    }
  })

  it('says which field left which range, and whose range it is', async () => {
    const { status, body } = await calculate('unionised-ammonia', { tan: 1, basis: 'N', tempC: 25, pH: 3 })
    expect(status).toBe(422)
    expect(body).toMatchObject({
      code: 'WATER_OUT_OF_RANGE',
      field: 'pH',
      value: 3,
      low: 5,
      high: 10,
      source: expect.any(String),
      errors: [{ pointer: '#/pH' }]
    })
  })

  it('takes numbers only, and names a field that is missing', async () => {
    const { status, body } = await calculate('co2', { khDKh: '4', pH: 7 })
    expect(status).toBe(422)
    const pointers = (body as { errors: { pointer: string }[] }).errors.map((fault) => fault.pointer)
    expect(pointers.sort()).toEqual(['#/khDKh', '#/tempC'])
  })

  it('of an unknown name is 404 and says which there are', async () => {
    for (const name of ['nothing', '__proto__', 'constructor', 'toString']) {
      const { status, text } = await calculate(name, {})
      expect(status, name).toBe(404)
      expect(text).toContain('unionised-ammonia')
    }
  })

  it('answers five hundred in a row without anyone being turned away', async () => {
    const body = { tan: 1, basis: 'NH4', tempC: 25, pH: 8 }
    const answers = await Promise.all(Array.from({ length: 500 }, () => calculate('unionised-ammonia', body)))
    expect(answers.filter((answer) => answer.status === 200)).toHaveLength(500)
  })
})
