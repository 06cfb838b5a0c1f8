import { expect, test } from 'vitest'
import { makeDice } from '../../services/rehearsal/dice.ts'

const draws = 200_000

test('even numbers fill 0 to 1 evenly: mean 1/2, variance 1/12, every tenth as full as the next', () => {
  const dice = makeDice(1)
  const tenths = new Array<number>(10).fill(0)
  let sum = 0
  let squares = 0
  let outside = 0
  for (let index = 0; index < draws; index += 1) {
    const value = dice.unit()
    if (value < 0 || value >= 1) outside += 1
    sum += value
    squares += value * value
    const tenth = Math.floor(value * 10)
    tenths[tenth] = (tenths[tenth] ?? 0) + 1
  }
  expect(outside).toBe(0)
  const mean = sum / draws
  // Five standard errors of an even distribution.
  expect(Math.abs(mean - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / draws))
  expect(Math.abs(squares / draws - mean * mean - 1 / 12)).toBeLessThan(0.001)
  // Chi-square with 9 degrees of freedom: above 33.7 once in ten thousand (tables of the chi-square distribution).
  const expected = draws / 10
  const chiSquare = tenths.reduce((total, count) => total + (count - expected) ** 2 / expected, 0)
  expect(chiSquare).toBeLessThan(33.7)
})

test('bell-shaped numbers have mean 0, deviation 1, and 4.55 % beyond two deviations', () => {
  const dice = makeDice('bell')
  let sum = 0
  let squares = 0
  let beyond = 0
  let before = 0
  let products = 0
  for (let index = 0; index < draws; index += 1) {
    const value = dice.normal()
    sum += value
    squares += value * value
    products += value * before
    before = value
    if (Math.abs(value) > 2) beyond += 1
  }
  expect(Math.abs(sum / draws)).toBeLessThan(5 / Math.sqrt(draws))
  expect(Math.abs(squares / draws - 1)).toBeLessThan(5 * Math.sqrt(2 / draws))
  expect(Math.abs(products / draws)).toBeLessThan(5 / Math.sqrt(draws))
  expect(Math.abs(beyond / draws - 0.0455)).toBeLessThan(5 * Math.sqrt((0.0455 * 0.9545) / draws))
})

const ten = (dice: ReturnType<typeof makeDice>): number[] => Array.from({ length: 10 }, () => dice.unit())

test('the same seed repeats itself; another seed and another label do not', () => {
  expect(ten(makeDice(7))).toEqual(ten(makeDice(7)))
  expect(ten(makeDice(7))).not.toEqual(ten(makeDice(8)))
  expect(ten(makeDice(7).fork('a'))).not.toEqual(ten(makeDice(7).fork('b')))
})

test('dice of their own are not moved by drawing from the others', () => {
  const drawn = makeDice(7)
  ten(drawn)
  expect(ten(drawn.fork('weather'))).toEqual(ten(makeDice(7).fork('weather')))
})

test('whole numbers include both ends', () => {
  const dice = makeDice(3)
  const seen = new Set(Array.from({ length: 500 }, () => dice.whole(2, 5)))
  expect([...seen].toSorted()).toEqual([2, 3, 4, 5])
})
