/** Stems that stand on top of every published list of leaked passwords (from memory). */
const stems = [
  'password',
  'passwort',
  'passw0rd',
  'qwertyuiop',
  'qwertzuiop',
  'asdfghjkl',
  'iloveyou',
  'sunshine',
  'princess',
  'football',
  'baseball',
  'superman',
  'trustno1',
  'letmein',
  'welcome',
  'changeme',
  'administrator',
  'admin',
  'keeper',
  'aquarium',
  'fishtank',
  'shoalkeeper',
  'qwerty',
  'abc',
  'test'
]
const runs = ['01234567890123456789', '98765432109876543210', 'abcdefghijklmnopqrstuvwxyz']

/** Whether a guesser would have it within the first few thousand tries. */
export function isCommonPassword(password: string): boolean {
  const plain = password.toLowerCase().replace(/\s/g, '')
  if (new Set(plain).size <= 2) return true
  if (runs.some((run) => run.includes(plain))) return true
  const withoutTail = plain.replace(/[\d!.?*_-]+$/, '')
  return stems.includes(plain) || stems.includes(withoutTail)
}
