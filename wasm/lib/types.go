package lib

import (
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/schema/link"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// writer makes TypeScript of Go types, as package schema writes them.
type writer struct {
	done map[reflect.Type]bool
	// names are those that are taken: two packages may have a type of one name.
	names map[string]reflect.Type
	text  strings.Builder
}

// Types gives the declarations of the package, whorl.d.ts: the operations, the records
// from the Go types, and the ids of the catalogue as unions, so that a mistyped sign does
// not compile.
func Types() string {
	w := &writer{done: map[reflect.Type]bool{}, names: map[string]reflect.Type{}}
	w.text.WriteString(head)
	for _, v := range []any{
		schema.File{}, schema.Record{}, baseline.Comparison{}, baseline.Known{}, baseline.Due{}, watch.Watched{}, baseline.Telling{}, recovery.Recovery{},
		baseline.Explanation{}, report.History{}, report.Usual{}, report.Chunk{}, pack.Pack{}, baseline.PracticePlan{}, baseline.Teaching{}, recovery.TrotDefinition{}, report.Report{}, vitals.Tapped{}, link.Answer{},
		vitals.Sign{}, vitals.Alarm{}, vitals.Fired{}, vitals.Caution{}, vitals.Source{}, vitals.Step{}, vitals.Fault{},
	} {
		w.name(reflect.TypeOf(v))
	}
	w.name(reflect.TypeFor[words.Lang]())
	w.text.WriteString(operations)
	return w.text.String()
}

// unions are the closed lists of the string types. A string type that is not here is open.
func unions() map[string][]string {
	m := map[string][]string{
		"Absence": of(vitals.Absences()), "Ask": of(vitals.Asks()), "Condition": of(vitals.Conditions()), "Course": of(vitals.Courses()),
		"Depth": of(vitals.Depths()), "Device": of(vitals.Devices()), "Effort": of(vitals.Efforts()), "Holder": of(vitals.Holders()),
		"Purpose": of(vitals.Purposes()), "SectionID": of(vitals.Sections()), "Sex": of(vitals.Sexes()), "Stage": of(vitals.Stages()),
		"Start": of(vitals.Starts()), "Status": of(vitals.Statuses()), "Type": of(vitals.Types()), "Unit": of(vitals.Units()),
		"Wellness": of(vitals.Wellnesses()), "Lang": of(words.Langs()), "PartID": of(report.Parts()),
		"Statement": of([]baseline.Statement{baseline.AsUsual, baseline.Higher, baseline.Lower, baseline.Differs, baseline.FirstSeen, baseline.Noted}),
	}
	for _, s := range vitals.Catalogue() {
		m["SignID"] = append(m["SignID"], string(s.ID))
		for _, site := range s.Sites {
			m["SiteID"] = append(m["SiteID"], string(site.ID))
		}
		m["SiteID"] = append(m["SiteID"], of(s.Where)...)
		for _, g := range s.Grades {
			m["GradeID"] = append(m["GradeID"], string(g.ID))
		}
	}
	for _, name := range []string{"SiteID", "GradeID"} {
		slices.Sort(m[name])
		m[name] = slices.Compact(m[name])
	}
	return m
}

func of[S ~string](list []S) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return out
}

// name gives the TypeScript of a type, and declares what it names the first time.
func (w *writer) name(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[time.Time]():
		return "Time"
	case reflect.TypeFor[vitals.Date]():
		return "CalendarDate"
	case reflect.TypeFor[decimal.Decimal](), reflect.TypeFor[decimal.NullDecimal]():
		return "Decimal"
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.name(t.Elem())
	case reflect.Slice:
		return "readonly " + w.name(t.Elem()) + "[]"
	case reflect.Map:
		return "Readonly<Record<" + w.name(t.Key()) + ", " + w.name(t.Elem()) + ">>"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.String:
		return w.union(t)
	case reflect.Struct:
		return w.declare(t)
	}
	panic("no TypeScript for " + t.String()) // a type that schema.Marshal refuses too
}

// called gives the name of a type, with that of its package before it where another has it already. Record is a word of TypeScript.
func (w *writer) called(t reflect.Type) string {
	name := t.Name()
	if name == "Record" {
		name = "ExamRecord"
	}
	if other := w.names[name]; other != nil && other != t {
		at := t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:]
		name = strings.ToUpper(at[:1]) + at[1:] + name
	}
	w.names[name] = t
	return name
}

// union declares a string type.
func (w *writer) union(t reflect.Type) string {
	if t.PkgPath() == "" || t.Name() == "Document" {
		return "string"
	}
	name := w.called(t)
	if w.done[t] {
		return name
	}
	w.done[t] = true
	to := "string"
	if list := unions()[t.Name()]; list != nil {
		to = "\n  | '" + strings.Join(list, "'\n  | '") + "'"
	}
	w.text.WriteString("export type " + name + " = " + to + ";\n\n")
	return name
}

// declare declares a struct as an interface.
func (w *writer) declare(t reflect.Type) string {
	name := w.called(t)
	if w.done[t] {
		return name
	}
	w.done[t] = true
	var body strings.Builder
	w.members(&body, t)
	if t == reflect.TypeFor[vitals.Finding]() {
		w.finding(body.String())
		return name
	}
	w.text.WriteString("export interface " + name + " {\n" + body.String() + "}\n\n")
	return name
}

// ways are the members of a finding of which exactly one is there.
var ways = []string{"count", "taps", "reading", "timed", "girth", "chosen", "absent"}

// finding declares a finding as a union, told apart by which of its ways is there.
func (w *writer) finding(members string) {
	var rest, one strings.Builder
	for line := range strings.Lines(members) {
		name, _, _ := strings.Cut(strings.TrimSpace(line), "?:")
		if slices.Contains(ways, name) {
			one.WriteString(strings.Replace(line, "?:", ":", 1))
		} else {
			rest.WriteString(line)
		}
	}
	w.text.WriteString("/** Exactly one of the members. */\ntype OneOf<T> = { [K in keyof T]: { [P in K]: T[P] } & { [P in Exclude<keyof T, K>]?: never } }[keyof T];\n\n" +
		"/** What was found of one sign at one site: a value in the form in which it was taken, or a reason for its absence. */\n" +
		"export type Finding = {\n" + rest.String() + "} & OneOf<{\n" + one.String() + "}>;\n\n")
}

func (w *writer) members(body *strings.Builder, t reflect.Type) {
	for f := range t.Fields() {
		tag, tagged := f.Tag.Lookup("json")
		if f.Anonymous && !tagged {
			w.members(body, f.Type)
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if !f.IsExported() || name == "-" {
			continue
		}
		if name == "" {
			name = f.Name
		}
		if strings.Contains(options, "omit") {
			name += "?"
		}
		body.WriteString("  " + name + ": " + w.name(f.Type) + ";\n")
	}
}

const head = `// Generated from the Go types and the catalogue of Whorl. Do not edit.

/** RFC 3339 with the offset of the place: "2026-05-03T07:30:00+02:00". */
export type Time = string;
/** YYYY-MM-DD. */
export type CalendarDate = string;
/** A number as it was read, as text, so that its places are kept: "38.40". */
export type Decimal = string;

`

const operations = `/** In which language to answer; English if not said. */
export interface Spoken { readonly lang?: Lang }

/** Every operation: what it takes and what it gives. */
export interface Operations {
  /** Whether histories may be remembered between calls: off at first, and to stay off where the next call may be another person's. */
  remember: { request: Spoken & { on: boolean }; value: { on: boolean } };
  version: { request: Spoken; value: { version: string; kind: string; format: number; langs: readonly Lang[] } };
  catalogue: { request: Spoken; value: Contents };
  figures: { request: Spoken; value: Figures };
  words: { request: Spoken; value: Readonly<Record<string, string>> };
  steps: { request: Spoken & { depth: Depth; holder?: Holder; closed?: boolean }; value: readonly Step[] };
  check: { request: Spoken & { horse?: Horse; exam?: Exam }; value: { faults: readonly Fault[] } };
  measure: { request: Spoken & { sign: SignID; finding: Finding; horse?: Horse; at?: Time }; value: Shown & { measure: Measure } };
  taps: { request: Spoken & { sign: SignID; atMs: readonly number[] }; value: Shown & Tapped };
  compare: { request: Asked; value: Comparing };
  /** Which rules on when to call fire in an exam by itself, begun or finished; said goes with fired, one for one. */
  alarms: { request: Spoken & { horse: Horse; exam: Exam; exams?: readonly Exam[]; pack?: Pack }; value: { fired: readonly Fired[]; level: Urgency | ''; said: readonly string[]; waits: readonly Advice[]; first: readonly Advice[] } };
  report: { request: Asked; value: Told };
  /** What stands behind each statement; said by "sign" or "sign/site". */
  explain: { request: Asked; value: { explanation: Explanation; said: Readonly<Record<string, readonly string[]>>; exam: readonly string[]; known: Readonly<Record<string, readonly string[]>> } };
  /** What the record holds of one sign: a chart as SVG, and the same in rows. */
  history: { request: Spoken & HorseRecord & { sign: SignID; site?: SiteID; at: Time }; value: History };
  /** What is usual for the horse, sign by sign. */
  normal: { request: Spoken & HorseRecord & { at: Time }; value: { rows: readonly Usual[] } };
  /** One file of both; fresh are the conflicts that neither had. */
  merge: { request: Spoken & { a: File; b: File }; value: { file: File; fresh: readonly Conflict[] } };
  /** The link and the code (SVG) of an exam; page is the address at which they open. */
  link: { request: Asked & { page: string }; value: { fragment: string; link: string; code?: Code; shorter?: boolean } };
  /** An exam that was sent, as the sender's history had it. */
  open: { request: Spoken & { fragment: string; pack?: Pack; page?: string }; value: Comparing & Told & { horse: Horse; exam: Exam; watched: readonly WatchedCourse[]; code?: Code } };
  /** The link and the code of a clinic's answer to an exam that it received. */
  answer: { request: Spoken & { answer: Answer; page: string }; value: { fragment: string; link: string; code?: Code } };
  /** An answer of a fragment: anybody can have written it. */
  answered: { request: Spoken & { fragment: string }; value: { answer: Answer } };
  /** CSV with a byte order mark. */
  sheet: { request: Spoken & HorseRecord; value: { text: string } };
  /** A FHIR R4 document bundle of an exam, or of the fragment of a link. */
  fhir: { request: Spoken & { pack?: Pack } & ({ horse: Horse; exams?: readonly Exam[]; exam: Exam } | { fragment: string }); value: { text: string } };
  /** A clinic's file from its text, or its faults and the line of each. */
  pack: { request: Spoken & { pack: string }; value: { pack?: Pack; faults: readonly Fault[]; lines: readonly number[] } };
  /** iCalendar. */
  calendar: { request: Spoken & { stamp: Time; events: readonly CalendarEvent[] }; value: { text: string } };
  known: { request: Spoken & { horse: Horse; exams: readonly Exam[]; at: Time }; value: Known & { due: Due; stage: Stage; said: string; whorl: string } };
  watch: { request: Spoken & HorseRecord & { first: string }; value: { series: readonly WatchedCourse[]; telling: readonly Telling[]; alarms: readonly Fired[]; latest: string } };
  recovery: { request: Spoken & HorseRecord & { of?: string }; value: Recovering };
  plan: { request: Spoken & HorseRecord & { at: Time; withinDays?: number; next?: boolean }; value: { plan: PracticePlan; said: readonly string[]; next?: readonly (Teaching & { said: readonly string[] })[]; due: Due } };
  read: { request: Spoken & { file: string }; value: File };
  write: { request: Spoken & { file: File }; value: { text: string } };
  schema: { request: Spoken; value: { text: string } };
}

/** One line on what to do, by its id and as it is said. */
export interface Advice { id: string; said: string }

/** A measure as it is said, and how it was taken. */
export interface Shown { shown: string; how: string }

/** A sentence under a sign, and what it is about. */
export interface Sentence { kind: 'usual' | 'rarity' | 'basis' | 'published' | 'measure' | 'warning'; text: string }

/** A comparison as data, and as it is said and drawn (SVG), by "sign" or "sign/site". Said is the texts of the sentences. */
export interface Comparing {
  comparison: Comparison;
  heading: string;
  remarks: readonly string[];
  said: Readonly<Record<string, readonly string[]>>;
  sentences: Readonly<Record<string, readonly Sentence[]>>;
  rulers: Readonly<Record<string, string>>;
}

/** A record to be compared, and the clinic's file. */
export type Asked = Spoken & ExamRecord & { pack?: Pack };

/** The call report as data, as text, and as it is read aloud. */
export interface Told { report: Report; text: string; aloud: readonly Chunk[] }

/** A code for a camera. */
export interface Code { text: string; version: number; level: string; svg: string }

/** The course of one sign over rechecks, as data, as it is said and as it is drawn (SVG). */
export type WatchedCourse = Watched & { said: readonly string[]; drawing?: string; why: readonly string[] };

export interface CalendarEvent { uid: string; start: Time; minutes?: number; everyDays?: number; times?: number; summary: string; description?: string; remindMinutes?: number }

/** A horse and its exams. */
export interface HorseRecord { readonly horse: Horse; readonly exams: readonly Exam[] }

/** One recovery after work as data, said and drawn (SVG), and the earlier ones. */
export interface Recovering {
  recovery?: Recovery;
  said?: { own: readonly string[]; limits: readonly { atMost: number; reached: readonly string[]; criteria: readonly string[] }[]; note: string; trots: readonly string[]; inversions: readonly string[] };
  curve?: string;
  earlier: readonly { ended: Time; effort?: Effort; reached: Reached; said: readonly string[] }[];
}

/** Every number that the library decides or computes with, and its source; work counts works from 1. */
export interface Figures {
  parts: readonly { heading: string; rows: readonly { what: string; figure?: string; for?: string; mark: string; doubt?: boolean; work?: number; note?: string }[] }[];
  works: readonly string[];
}

/** The catalogue, and every closed list of answers. */
export interface Contents {
  signs: readonly Sign[]; sections: readonly SectionID[]; alarms: readonly Alarm[]; cautions: readonly Caution[]; sources: readonly Source[];
  depths: readonly Depth[]; types: readonly Type[]; sexes: readonly Sex[]; stages: readonly Stage[]; conditions: readonly Condition[];
  efforts: readonly Effort[]; purposes: readonly Purpose[]; wellnesses: readonly Wellness[]; statuses: readonly Status[];
  holders: readonly Holder[]; absences: readonly Absence[]; starts: readonly Start[]; devices: readonly Device[]; units: readonly Unit[];
  courses: readonly Course[]; asks: readonly Ask[];
  criteria: readonly Criterion[]; trots: readonly TrotDefinition[]; recoverySources: readonly Source[];
}

/** Whorl refused the request: every fault of it, in the language asked for. */
export class Refused extends Error {
  readonly op: string;
  readonly faults: readonly Fault[];
}

/** The core could not be had, or died twice in one call. What was asked is not lost: the caller has it. */
export class Unavailable extends Error {}

export class Whorl {
  /** Throws Refused or Unavailable. */
  call<O extends keyof Operations>(op: O, ...request: Spoken extends Operations[O]['request'] ? [Operations[O]['request']?] : [Operations[O]['request']]): Promise<Operations[O]['value']>;
  /** The same as text, untouched: the answer of the core with its "ok". Throws Unavailable only. */
  callText(op: string, request: string): Promise<string>;
}

/** Starts the core. The source is what lies beside the loader, if not given. Throws Unavailable. */
export function load(source?: CoreSource | Promise<CoreSource>): Promise<Whorl>;
/** An address, a Response of fetch, bytes, or a compiled WebAssembly.Module. */
export type CoreSource = string | object;
`
