/**
 * How easily a text reads: 206.835 - 1.015 words a sentence - 84.6 syllables a word; 60 to 70 is plain English,
 * 80 and more is easy. Source: Flesch (1948), A new readability yardstick, Journal of Applied Psychology 32(3).
 * Syllables are counted as groups of vowels, without a silent e at the end: good to some percent.
 */
export function readingEase(text: string): number {
  const sentences = text.split(/(?<=[.!?:])\s+/).filter((part) => /[a-z]/i.test(part)).length
  const words = text.match(/[\p{L}’']+|\d+(?:\.\d+)?/gu) ?? []
  const syllables = words.reduce((sum, word) => sum + syllablesOf(word), 0)
  return 206.835 - 1.015 * (words.length / Math.max(1, sentences)) - 84.6 * (syllables / words.length)
}

function syllablesOf(word: string): number {
  if (!/[a-z]/i.test(word)) return 1
  const groups = word.toLowerCase().match(/[aeiouy]+/g)?.length ?? 1
  const silent = /[^aeiouyl]e$|[^aeiouytd]ed$/i.test(word) ? 1 : 0
  return Math.max(1, groups - silent)
}
