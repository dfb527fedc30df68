import { locale, say } from '../core/words';

/** RFC 3339 with the local offset, to the second: the hour of the day matters. */
export function rfc3339(d: Date): string {
  const two = (n: number) => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  const off = -d.getTimezoneOffset();
  const zone = off === 0 ? 'Z' : (off < 0 ? '-' : '+') + two(off / 60) + ':' + two(off % 60);
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}:${two(d.getSeconds())}${zone}`;
}

/** What a datetime-local field shows of an RFC 3339 time. */
export const localField = (at: string): string => rfc3339(new Date(at)).slice(0, 16);

export function dateTime(at: string): string {
  return new Intl.DateTimeFormat(locale, { weekday: 'short', day: 'numeric', month: 'short', hour: 'numeric', minute: '2-digit' })
    .format(new Date(at));
}

/** The same for a narrow place: "25 Nov, 2:10 am". */
export function dateTimeShort(at: string): string {
  return new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'short', hour: 'numeric', minute: '2-digit' }).format(new Date(at));
}

/** The time of day: "2:10 am". */
export const clock = (at: string): string => new Intl.DateTimeFormat(locale, { hour: 'numeric', minute: '2-digit' }).format(new Date(at));

export const isToday = (at: string): boolean => daysBetween(new Date(), new Date(at)) === 0;

/** Days of the calendar from one time to another. */
export function daysBetween(from: Date, to: Date): number {
  const midnight = (d: Date): number => Date.UTC(d.getFullYear(), d.getMonth(), d.getDate());
  return (midnight(to) - midnight(from)) / 86_400_000;
}

/** "yesterday", "3 weeks ago". */
export function ago(at: string, now = new Date()): string {
  const rel = new Intl.RelativeTimeFormat(locale, { numeric: 'auto' });
  const then = new Date(at);
  const days = daysBetween(now, then);
  if (days === 0) {
    const minutes = Math.round((then.getTime() - now.getTime()) / 60_000);
    return Math.abs(minutes) < 60 ? rel.format(minutes, 'minute') : rel.format(Math.round(minutes / 60), 'hour');
  }
  if (days > -14) return rel.format(days, 'day');
  if (days > -60) return rel.format(Math.round(days / 7), 'week');
  if (days > -730) return rel.format(Math.round(days / 30.44), 'month');
  return rel.format(Math.round(days / 365.25), 'year');
}

/** "9 years", "3 weeks"; empty when the birth is not known. */
export function age(born: string | undefined, now = new Date()): string {
  if (!born) return '';
  const days = Math.floor((now.getTime() - new Date(born + 'T00:00').getTime()) / 86_400_000);
  if (!(days >= 0)) return '';
  if (days < 14) return say('page.age.days', { n: days });
  if (days < 90) return say('page.age.weeks', { n: Math.floor(days / 7) });
  if (days < 730) return say('page.age.months', { n: Math.floor(days / 30.44) });
  return say('page.age.years', { n: Math.floor(days / 365.25) });
}

/** "6:20", "1:06:20". */
export function clockText(ms: number): string {
  const s = Math.max(0, Math.floor(ms / 1000));
  const two = (n: number): string => String(n).padStart(2, '0');
  return s >= 3600 ? `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
}

/** "4 min", "3 hr": for how long it has been due. */
export function spanText(ms: number): string {
  const minutes = Math.floor(ms / 60_000);
  const unit = minutes < 120 ? 'minute' : 'hour';
  return new Intl.NumberFormat(locale, { style: 'unit', unit, unitDisplay: 'long' }).format(unit === 'minute' ? minutes : Math.floor(minutes / 60));
}
