// The record and the catalogue as they cross the boundary; the authority is the Go types
// of vitals, baseline and report.

export type ID = string;

export interface Contact { name: string; phone?: string; role?: string }

export interface Horse {
  id: ID;
  name: string;
  type: string;
  sex?: string;
  born?: string;
  bornYearOnly?: boolean;
  breed?: string;
  markings?: string;
  notes?: string;
  inFoal?: boolean;
  due?: string;
  /** What whoever comes near must know. */
  handling?: string;
  insured?: string;
  /** May be taken to a clinic. */
  referral?: string;
  /** The moment of birth, and of this mare's last foaling, where they are known. */
  bornAt?: string;
  foaledAt?: string;
  stands?: string;
  contacts?: Contact[];
  newUsual?: NewUsual[];
}

/** The answer to "is this the new usual?". */
export interface NewUsual { sign: string; site?: string; from: string; said: string; by?: string; not?: boolean; back?: boolean }

export interface State { condition: string; also?: string[]; sinceMinutes?: number; effort?: string; with?: string; ended?: string }

/** A trot in hand between the count of the exam before and that of this one. */
export interface Trot { before: ID; outMetres: string; clock: string; seconds?: number }

/** A number as read: text, so that its places are kept. */
export interface Reading { value: string; unit: string; device?: string; label?: string }

export interface Finding {
  sign: string;
  site?: string;
  minutes?: number;
  count?: { events: number; seconds: number; start: string };
  taps?: { atMs: number[] };
  reading?: Reading;
  timed?: { centiSeconds: number[]; aloud?: boolean };
  girth?: { girth: string; length: string; unit: string };
  chosen?: string[];
  absent?: string;
  where?: string[];
  note?: string;
}

export interface Given { what: string; dose?: string; at?: string; by?: string }

export interface Story {
  noticed?: string;
  since?: string;
  course?: string;
  bouts?: boolean;
  passed?: string;
  intake?: string;
  given?: Given[];
  changed?: string;
  history?: string;
  ask?: string;
  callback?: string;
  stands?: string;
}

/** A question of a clinic, in its own words, and what the handler answered. */
export interface ClinicQuestion { by: string; text: string; id?: string; kind?: string; answer?: string }

export interface Exam {
  id: ID;
  horse: ID;
  at: string;
  depth: string;
  purpose: string;
  state: State;
  wellness?: string;
  status: string;
  by?: string;
  holder?: string;
  air?: { temperature?: Reading; humidity?: Reading };
  findings?: Finding[];
  story?: Story;
  asked?: ClinicQuestion[];
  recheckOf?: ID;
  corrected?: { at: string; by?: string };
  trot?: Trot;
  call?: Call;
}

/** "Call your vet now" was said of this exam, and what became of it. With today it is "tell your vet today", which this device alone remembers. */
export interface Call { saidAt: string; alarms?: string[]; toldAt?: string; told?: string; closedAt?: string; outcome?: string; today?: true }

export interface Site { id: string; depth: string; weak?: unknown }
export interface Grade { id: string; rank: number; alone?: boolean; closes?: boolean }

export interface Sign {
  id: string;
  kind: string;
  depth: string;
  unit?: string;
  places?: number;
  sites?: Site[];
  perSite?: boolean;
  /** One site of a perSite sign is enough. */
  anySite?: boolean;
  where?: string[];
  again?: boolean;
  methods: string[];
  grades?: Grade[];
  span?: { low: string; high: string };
  cautions?: string[];
  remarks?: Grouped[];
  section: string;
  applies?: Applies;
}

/** Of which animals, in which state, a sign is asked. */
export interface Applies { stages?: string[]; broodmare?: boolean; afterWork?: boolean }

/** What can be ticked before any exam: one answer of one sign for which a rule says to call now. */
export interface RedFlag {
  id: string; sign: string; grade: string; types?: string[]; stages?: string[]; mares?: boolean; inFoal?: boolean; problem: string; first?: string; state?: string;
}

/** A text for some animals; no list means for every one. */
export interface Grouped { id: string; types?: string[]; stages?: string[] }

export interface Step { sign: string; depth: string; sites?: string[] }

/** What the site builder takes from the Go packages, so that the form works before the core. */
export interface Book {
  signs: Sign[];
  /** By depth, then holder, "+closed" once a grade closed the exam. */
  steps: Record<string, Step[]>;
  cautions: Grouped[];
  /** By sign, the answers for which a published rule says to call. */
  flags: Record<string, string[]>;
  redFlags: RedFlag[];
  stages: string[];
  sections: string[];
  types: string[];
  sexes: string[];
  depths: string[];
  purposes: string[];
  conditions: string[];
  criteria: Criterion[];
  trots: TrotDefinition[];
}

/** A published rate to come down to after work. */
export interface Criterion { id: string; atMost: number; withinMinutes?: number }
export interface TrotDefinition { id: string; outMetres: number; clock: string; seconds?: number }

export interface Fault { code: string; path: string; sentence: string }

export interface Measure { value: number; sd: number; unit: string }
export interface Measured { measure?: Measure; shown?: string; how?: string; advice?: string }
export interface Tapped extends Measured { refused?: number; rhythm?: unknown }

export interface Fired {
  alarm: string; urgency: string; minutes?: number; then?: string; sign: string; with?: string[]; sites?: string[];
  problem?: string; first?: string; source?: string; mark?: string;
  /** When an earlier look of the same case saw it, and nobody looked again. */
  seen?: string;
}
export interface Advice { id: string; said: string }
/** The rules that fire in an exam by itself, the most urgent of their levels, and what to do. */
export interface Alarming { fired: Fired[]; level: string; said: string[]; waits: Advice[]; first: Advice[] }
export interface Compared { sign: string; site?: string; statement: string; chosen?: string[]; usual?: string[]; seen?: number; usualSeen?: number; own?: { low: number; high: number }; measure?: Measure; strong?: boolean; basis?: { exams: number; since?: string }; question?: { from: string } }
export interface Unchecked { sign: string; site?: string; reason: string }
export interface Comparison {
  alarms?: Fired[];
  signs?: Compared[];
  unchecked?: Unchecked[];
  warnings?: { key: string }[];
  overall: { signs: number; p: number; unusual: boolean; level: number };
}
/** What a sentence is about is told by its kind, in every language. */
export interface Sentence { kind: string; text: string }
export interface Comparing {
  comparison: Comparison;
  heading: string;
  remarks: string[];
  /** By sign or sign/site. */
  sentences: Record<string, Sentence[]>;
  rulers: Record<string, string>;
}
export interface Line { text: string; strong?: boolean; blank?: boolean }
export interface Report { lang: string; title: string; message: string; parts: { id: string; heading: string; lines: Line[] }[] }

/** One sign of the record, as a chart and as a table. */
export interface Told {
  chart: string;
  now: string;
  rows?: { exam: ID; day: string; value: string; usual?: string; statement: string; mark: string; said: string }[];
}
/** A part of a sentence as it is said; the figure is what is written where that differs. */
export interface Piece { say: string; figure?: string }
export interface Chunk { part: string; heading: string; pieces: Piece[]; strong?: boolean; blank?: boolean }

export interface Reported { report: Report; text: string; aloud: Chunk[] }
export interface Linked { fragment: string; link: string; shorter?: boolean; code?: { text: string; version: number; level: string; svg: string } }
/** What a clinic answers to an exam that it received; words are the first letters of the check words of that. */
export interface Answer { exam: ID; words?: string; at: string; by: string; advice: string; again?: string; next?: string }
export interface Watched {
  sign: string; site?: string; trend?: string; said: string[]; drawing?: string; unit?: string;
  points?: { at: string; value: number }[]; answers?: { at: string; chosen: string[] }[];
}
export interface Opened extends Comparing, Reported { horse: Horse; exam: Exam; watched: Watched[]; code?: Linked['code'] }

/** A clinic's file, as far as the page itself reads it. */
export interface Pack {
  clinic: { name: string; numbers: { phone: string; hours: string }[]; page?: string };
  langs?: string[];
  units?: string[];
  questions?: PackQuestion[];
  ask?: string[];
}
export interface PackQuestion { id?: string; lang: string; text: string; answer?: string; at?: string }

/** Another version of a horse or an exam, from another device. */
export interface Conflict { horse?: Horse; exam?: Exam; aside?: boolean }
/** A horse that was deleted here. */
export interface Gone { id: ID; name: string }
/** A record that does not keep the rules, as its text, and whose it is. */
export interface Unread { of: string; text: string }
/** What a newer version wrote and this one does not understand: kept, and written again. */
export interface Unknown { at: string; json: string; minor: number }
export interface BarnFile { kind: string; format: number; horses: Horse[]; exams: Exam[]; conflicts?: Conflict[]; gone?: Gone[]; unread?: Unread[]; unknown?: Unknown[] }

export interface Due { exams: number; planned: number; lastAt?: string; at?: string; now: boolean; everyDays: number; unknown?: string[] }
export interface Known { exams: number; lastAt?: string; due: Due; stage: string; said: string; whorl: string }

export interface Watching {
  series: Watched[];
  telling: { sign: string; why: string }[];
  alarms: Fired[];
  latest: ID;
}
export interface Recovering {
  recovery?: { ended: string; exams: ID[]; heart?: { minutes: number; rate: number; sd: number }[] };
  said?: { own: string[]; limits: { atMost: number; reached: string[]; criteria: string[] }[]; note: string; trots: string[]; inversions: string[] };
  curve?: string;
  earlier: { ended: string; effort?: string; reached: { state: string; minutes: number }; said: string[] }[];
}
export interface Planned { plan: { exams: number; everyDays: number }; said: string[]; next?: { sign: string; said: string[] }[]; due: Due }
