/** Words of the frame, the log-in, joining and the house page. */
export const frame = {
  name: 'Shoalkeeper',
  skip: 'Skip to the page',
  nav: 'Screens',
  more: 'More',
  looksWrong: 'Something looks wrong',
  screens: {
    now: 'Now',
    alarms: 'Alarms',
    tests: 'Tests',
    diary: 'Diary',
    night: 'Last night',
    upkeep: 'Upkeep',
    probes: 'Probes',
    'work-it-out': 'Work it out',
    tank: 'Tank',
    house: 'House'
  },
  loading: 'Asking the watch …',
  away: 'The watch does not answer.',
  awayWhat:
    'This page keeps trying. Is the computer that runs the watch switched on, and on the same network?',
  tryAgain: 'Try now',
  broken: 'This screen could not be loaded.'
} as const

export const problem = {
  unknown: 'That did not work, and the watch did not say why. Try once more.',
  away: 'The watch could not be reached. Nothing was changed. Try once more in a moment.'
} as const

export const login = {
  title: 'Who is there?',
  password: 'Password of the keeper',
  show: 'Show what I type',
  enter: 'Log in',
  workItOut: 'Work something out without logging in',
  forgotten:
    'Forgotten? On the computer that runs the watch, stop it and start it with KEEPER_PASSWORD set to a new one in a new data folder, or ask whoever set it up.'
} as const

export const join = {
  title: 'This screen joins the watch',
  doing: 'One moment …',
  done: 'This screen belongs to the watch now.',
  enter: 'Show the tank',
  failed: 'That did not work.',
  again:
    'Ask the keeper for a new code: under House, "Let a tablet in". A code works once, and only for a short time.',
  noCode: 'The address holds no code.'
} as const

export const house = {
  title: 'House',
  tablets: 'Screens and helpers',
  tabletsWhat: 'Each wall tablet or helping hand gets its own key, which you can take away again.',
  inviteTitle: 'Let a screen in',
  label: 'Name it',
  labelHint: 'Such as kitchen wall, or Mira',
  keeperDevice: 'A device with the password of the keeper',
  role: 'It may',
  roles: {
    wall: 'show the wall and acknowledge alarms (a wall tablet)',
    helper: 'also type in tests and the diary (a helping hand)'
  },
  invite: 'Make a code',
  scan: 'Scan this with the tablet, or open the address on it. It works once.',
  codeUntil: (time: string) => `Works until ${time}.`,
  qrAlt: 'The address as a square code to scan',
  end: 'Take the key away',
  seen: (ago: string) => `last seen ${ago}`,
  noTablets: 'No screen has joined yet.',
  boards: 'Boards',
  boardsWhat: 'A board on your network needs a name and a password to publish.',
  boardName: 'Name of the board',
  boardNameHint: 'Letters, digits, dot, hyphen and underscore, such as kitchen-board',
  addBoard: 'Make a password',
  boardSecret: 'Its password, shown only now:',
  boardOnce: 'Write it into the board now. It cannot be shown again; make a new one if it is lost.',
  noBoards: 'No board has a password yet.',
  units: 'Numbers and clock',
  temperature: 'Temperature in',
  volume: 'Volume in',
  hardness: 'Hardness in',
  clock: 'Clock',
  clock24: '24 hours',
  clock12: '12 hours',
  unitNames: {
    Cel: '°C',
    degF: '°F',
    L: 'litres',
    'gal-us': 'US gallons',
    'gal-imp': 'imperial gallons',
    dKH: 'German degrees (dKH)',
    ppm: 'ppm as CaCO₃'
  },
  theme: 'Paper or night',
  themes: { clock: 'by the clock', paper: 'always paper', night: 'always night' },
  network: 'Home network',
  networkIn: 'Boards and tablets on my home network may come in',
  networkWhat:
    'Switched on, other devices in your home can reach the watch: boards with a name and password, screens with a code. Switched off, only this computer can.',
  notReachable: 'Only this computer can reach the watch now. Let the home network in first: see below.',
  restart: 'This takes effect when the watch is started the next time.',
  tabletsMayTest: 'Wall tablets may type in water tests',
  sound: 'Sound of alarms',
  trySound: 'Sound it once',
  about: 'About',
  version: (version: string) => `Version ${version}`,
  aboutWhat:
    'Shoalkeeper watches and warns. It switches nothing and doses nothing. A probe can lie, a network can fail, and a watch can stop: it is no guarantee for a life. A sick fish needs an aquatic veterinarian; fixed wiring needs a qualified electrician.',
  appPossible:
    'This page can be put on the screen of this device as an app: look for "Install" or "Add to home screen" in the menu of the browser.',
  appNeedsHttps:
    'Opened over HTTPS, this page could be installed as an app. Put a web server with a certificate in front of the watch and set PUBLIC_URL to its https:// address.',
  logOut: 'Log out',
  saved: 'Saved'
} as const
