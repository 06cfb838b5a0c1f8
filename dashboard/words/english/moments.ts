/** Words of time. */
export const moments = {
  today: (time: string) => `today ${time}`,
  yesterday: (time: string) => `yesterday ${time}`,
  tomorrow: (time: string) => `tomorrow ${time}`,
  justNow: 'just now',
  ago: (span: string) => `${span} ago`,
  seconds: (count: number) => `${count} s`,
  minutes: (count: number) => `${count} min`,
  hours: (count: number) => `${count} h`,
  days: (count: number) => `${count} days`,
  weekdays: ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'],
  months: ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sept', 'Oct', 'Nov', 'Dec']
} as const
