package vitals

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// coded lists faults as "code path".
func coded(fs Faults) []string {
	out := []string{}
	for _, f := range fs {
		out = append(out, string(f.Code)+" "+f.Path)
	}
	return out
}

func TestCheckHorse(t *testing.T) {
	t.Parallel()
	good := Horse{ID: "anis.1", Name: "Anis", Type: TypeMule, Sex: Mare, Born: Date{2015, 4, 9}, InFoal: true,
		Notes: "left hind white\n\tkind", Contacts: []Contact{{Name: "Ida"}, {Phone: "555-0100"}}}
	td.Cmp(t, CheckHorse(good), td.Empty())
	td.CmpNoError(t, CheckHorse(good).Err())
	td.Cmp(t, CheckHorse(Horse{ID: "a", Name: "ñandú 🐴", Type: TypeHorse, Born: Date{2015, 1, 1}, BornYearOnly: true}), td.Empty())

	for _, x := range []struct {
		spoil func(*Horse)
		want  []string
	}{
		{func(h *Horse) { h.ID = "" }, []string{"bad-id /id"}},
		{func(h *Horse) { h.ID = ID(strings.Repeat("a", 64)) }, []string{}},
		{func(h *Horse) { h.ID = ID(strings.Repeat("a", 65)) }, []string{"bad-id /id"}},
		{func(h *Horse) { h.ID = "a/b" }, []string{"bad-id /id"}},
		{func(h *Horse) { h.Name = " \n" }, []string{"missing-text /name", "control-character /name"}},
		{func(h *Horse) { h.Name = strings.Repeat("ñ", 100) }, []string{}},
		{func(h *Horse) { h.Name = strings.Repeat("ñ", 101) }, []string{"too-long /name"}},
		{func(h *Horse) { h.Name = "An\tis" }, []string{"control-character /name"}},
		{func(h *Horse) { h.Name = "An\xffis" }, []string{"bad-text /name"}},
		{func(h *Horse) { h.Notes = strings.Repeat("x", 2000) }, []string{}},
		{func(h *Horse) { h.Notes = strings.Repeat("x", 2001) }, []string{"too-long /notes"}},
		{func(h *Horse) { h.Notes = "a\x00b" }, []string{"control-character /notes"}},
		{func(h *Horse) { h.Notes = "a\u0085b" }, []string{"control-character /notes"}},
		{func(h *Horse) { h.Type = "" }, []string{"missing-answer /type"}},
		{func(h *Horse) { h.Type = "zebra" }, []string{"unknown-answer /type"}},
		{func(h *Horse) { h.Sex = "colt" }, []string{"unknown-answer /sex"}},
		{func(h *Horse) { h.Sex = "" }, []string{}},
		{func(h *Horse) { h.Sex = Gelding }, []string{"in-foal-not-mare /inFoal"}},
		{func(h *Horse) { h.Born = Date{2015, 2, 29} }, []string{"impossible-day /born"}},
		{func(h *Horse) { h.Born = Date{2016, 2, 29} }, []string{}},
		{func(h *Horse) { h.Born = Date{1899, 12, 31} }, []string{"impossible-day /born"}},
		{func(h *Horse) { h.Born = Date{2015, 13, 1} }, []string{"impossible-day /born"}},
		{func(h *Horse) { h.BornYearOnly = true }, []string{"year-only /bornYearOnly"}},
		{func(h *Horse) { h.Born, h.BornYearOnly = Date{}, true }, []string{"year-only /bornYearOnly"}},
		{func(h *Horse) { h.Contacts = []Contact{{Name: "Ida"}, {Role: "owner"}} }, []string{"empty-contact /contacts/1"}},
		// All at once, not the first.
		{func(h *Horse) { h.ID, h.Type, h.Breed = "", "", "a\nb" }, []string{"bad-id /id", "missing-answer /type", "control-character /breed"}},
	} {
		h := good
		x.spoil(&h)
		td.Cmp(t, coded(CheckHorse(h)), x.want)
	}
}

func TestCheckExam(t *testing.T) {
	t.Parallel()
	h := Horse{ID: "h", Name: "Anis", Type: TypeHorse, Born: Date{2015, 4, 9}}
	good := examOf(choose(Attitude, "", "bright"))
	good.Wellness, good.Holder, good.By = Well, Held, "Ida"
	good.Air = &Air{Temperature: &Reading{Value: decimal.RequireFromString("68"), Unit: Fahrenheit}, Humidity: &Reading{Value: decimal.NewFromInt(40), Unit: Percent}}
	good.Story = &Story{Noticed: "off its feed", Since: testMoment, Course: Same, Ask: AskCome, Given: []Given{{What: "hay", At: testMoment}}}
	td.Cmp(t, CheckExam(good, h), td.Empty())

	for _, x := range []struct {
		spoil func(*Exam)
		want  []string
	}{
		{func(e *Exam) { e.Horse = "other" }, []string{"other-horse /horse"}},
		{func(e *Exam) { e.At = time.Time{} }, []string{"impossible-time /at"}},
		// A date that cannot be right is no fault.
		{func(e *Exam) { e.At = time.Date(2162, 1, 1, 0, 0, 0, 0, time.UTC) }, []string{}},
		{func(e *Exam) { e.At = time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC) }, []string{"impossible-time /at"}},
		{func(e *Exam) { e.At = time.Date(2005, 4, 7, 23, 0, 0, 0, time.UTC) }, []string{}},
		{func(e *Exam) { e.Depth, e.Purpose, e.Status = "", "", "" }, []string{"missing-answer /depth", "missing-answer /purpose", "missing-answer /status"}},
		{func(e *Exam) { e.Depth = "deeper" }, []string{"unknown-answer /depth"}},
		{func(e *Exam) { e.Wellness = "fine" }, []string{"unknown-answer /wellness"}},
		{func(e *Exam) { e.Holder = "ida" }, []string{"unknown-answer /holder"}},
		{func(e *Exam) { e.State = State{} }, []string{"missing-answer /state/condition"}},
		{func(e *Exam) { e.State.SinceMinutes = 5 }, []string{"not-of-state /state/sinceMinutes"}},
		{func(e *Exam) { e.State.Effort = Hard }, []string{"not-of-state /state/effort"}},
		{func(e *Exam) { e.State.With = "told" }, []string{"not-of-state /state/with"}},
		{func(e *Exam) { e.State = State{Condition: AfterWork, SinceMinutes: 1440, Effort: Hard} }, []string{}},
		{func(e *Exam) { e.State = State{Condition: AfterWork, SinceMinutes: 1441} }, []string{"out-of-range /state/sinceMinutes"}},
		{func(e *Exam) { e.State = State{Condition: AfterWork, SinceMinutes: -1} }, []string{"out-of-range /state/sinceMinutes"}},
		{func(e *Exam) { e.State = State{Condition: Medicated, With: "as told"} }, []string{}},
		{func(e *Exam) { e.State = State{Condition: AfterWork, Ended: testMoment.Add(-time.Minute)} }, []string{}},
		{func(e *Exam) { e.State = State{Condition: AfterWork, Ended: testMoment.Add(time.Second)} }, []string{"ended-later /state/ended"}},
		{func(e *Exam) {
			e.State = State{Condition: AfterWork, Ended: time.Date(1800, 1, 1, 0, 0, 0, 0, time.UTC)}
		}, []string{"impossible-time /state/ended"}},
		{func(e *Exam) { e.State.Ended = testMoment }, []string{"not-of-state /state/ended"}},
		{func(e *Exam) { e.RecheckOf = "first" }, []string{}},
		{func(e *Exam) { e.RecheckOf = "fi/rst" }, []string{"bad-id /recheckOf"}},
		{func(e *Exam) { e.RecheckOf = e.ID }, []string{"of-itself /recheckOf"}},
		{func(e *Exam) {
			e.State.Condition = AfterWork
			e.Trot = &Trot{Before: "before", OutMetres: decimal.RequireFromString("38.1"), Clock: FromTrotStart, Seconds: 60}
		}, []string{}},
		{func(e *Exam) {
			e.Trot = &Trot{Before: e.ID, OutMetres: decimal.NewFromInt(501), Clock: "whistle", Seconds: 3601}
		}, []string{"of-itself /trot/before", "out-of-range /trot/outMetres", "unknown-answer /trot/clock", "out-of-range /trot/seconds", "not-of-state /trot"}},
		{func(e *Exam) { e.Air = &Air{Humidity: &Reading{Value: decimal.NewFromInt(101), Unit: Percent}} }, []string{"out-of-range /air/humidity/value"}},
		{func(e *Exam) { e.Air = &Air{Temperature: &Reading{Value: decimal.NewFromInt(100), Unit: Celsius}} }, []string{"out-of-range /air/temperature/value"}},
		{func(e *Exam) { e.Air = &Air{Temperature: &Reading{Value: decimal.NewFromInt(100), Unit: Fahrenheit}} }, []string{}},
		{func(e *Exam) { e.Air = &Air{Temperature: &Reading{Value: decimal.NewFromInt(20), Unit: Percent}} }, []string{"wrong-unit /air/temperature/unit"}},
		{func(e *Exam) { e.Story = &Story{Course: "odd", Ask: "odd", Given: []Given{{}}} },
			[]string{"unknown-answer /story/course", "unknown-answer /story/ask", "missing-text /story/given/0/what"}},
		{func(e *Exam) { e.Story = &Story{Callback: "1\n2", History: "1\n2"} }, []string{"control-character /story/callback"}},
		{func(e *Exam) { e.Findings = append(e.Findings, choose(Attitude, "", "dull")) }, []string{"duplicate-finding /findings/1"}},
		{func(e *Exam) {
			later := choose(Attitude, "", "dull")
			later.Minutes = 10
			e.Findings = append(e.Findings, later)
		}, []string{}},
	} {
		e := good
		x.spoil(&e)
		td.Cmp(t, coded(CheckExam(e, h)), x.want)
	}
}

func TestCheckFinding(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	count := func(n, s int) Finding {
		return Finding{Sign: HeartRate, Count: &Count{Events: n, Seconds: s, Start: OnBeat}}
	}
	taps := func(ms ...int) Finding { return Finding{Sign: HeartRate, Taps: &Taps{AtMS: ms}} }
	with := func(f Finding, more func(*Finding)) Finding { more(&f); return f }
	girth := func(g, l string, u Unit) Finding {
		return Finding{Sign: Weight, Girth: &Girth{decimal.RequireFromString(g), decimal.RequireFromString(l), u}}
	}
	many := make([]int, MaxTaps+1)
	for i := range many {
		many[i] = i * 250
	}
	for _, x := range []struct {
		f    Finding
		want []string
	}{
		{Finding{Sign: "tail", Absent: NotTried}, []string{"unknown-sign /sign"}},
		{Finding{Sign: Attitude}, []string{"no-value "}},
		{Finding{Sign: Attitude, Chosen: []GradeID{}}, []string{"no-value "}},
		{Finding{Sign: Attitude, Absent: NotTried}, []string{}},
		{Finding{Sign: Attitude, Absent: "later"}, []string{"unknown-answer /absent"}},
		{with(choose(Attitude, "", "dull"), func(f *Finding) { f.Absent = Unsure }), []string{"two-values "}},
		{with(count(9, 15), func(f *Finding) { f.Taps = &Taps{AtMS: []int{0, 1500}} }), []string{"two-values "}},
		{Finding{Sign: Attitude, Reading: &Reading{Value: decimal.NewFromInt(3), Unit: One}}, []string{"wrong-kind /reading"}},
		{choose(HeartRate, "", "regular"), []string{"wrong-kind /chosen"}},
		{with(choose(Attitude, "", "dull"), func(f *Finding) { f.Site = "jaw" }), []string{"unknown-site /site"}},
		{choose(DigitalPulse, "", "faint"), []string{"site-missing /site"}},
		{choose(DigitalPulse, "fore-left", "faint"), []string{}},
		{choose(DigitalPulse, "flank-left", "faint"), []string{"unknown-site /site"}},
		{choose(Attitude, "", "merry"), []string{"unknown-grade /chosen/0"}},
		{choose(Attitude, "", "dull", "quiet"), []string{"one-grade /chosen"}},
		{choose(Droppings, "", "few", "dry"), []string{}},
		{choose(Droppings, "", "few", "few"), []string{"grade-twice /chosen/1"}},
		{choose(Droppings, "", "dry", "usual"), []string{"exclusive-grade /chosen/1"}},
		{choose(PainSigns, "", "none", "paws"), []string{"exclusive-grade /chosen/0"}},
		{with(choose(Wounds, "", "slight"), func(f *Finding) { f.Where = []SiteID{"head", "fore-left"} }), []string{}},
		{with(choose(Wounds, "", "slight"), func(f *Finding) { f.Where = []SiteID{"head", "jaw", "head"} }),
			[]string{"unknown-where /where/1", "unknown-where /where/2"}},
		{with(choose(Attitude, "", "dull"), func(f *Finding) { f.Where = []SiteID{"head"} }), []string{"unknown-where /where/0"}},
		{Finding{Sign: Wounds, Absent: Unsure, Where: []SiteID{"head"}}, []string{"where-alone /where"}},
		{with(count(9, 15), func(f *Finding) { f.Minutes = 1441 }), []string{"out-of-range /minutes"}},
		{with(count(9, 15), func(f *Finding) { f.Minutes = -1 }), []string{"out-of-range /minutes"}},
		{with(count(9, 15), func(f *Finding) { f.Note = strings.Repeat("x", 2001) }), []string{"too-long /note"}},

		{count(9, 5), []string{}}, {count(9, 4), []string{"out-of-range /count/seconds"}},
		{count(200, 300), []string{}}, {count(200, 301), []string{"out-of-range /count/seconds"}},
		{count(-1, 15), []string{"out-of-range /count/events"}},
		{count(66, 15), []string{}}, {count(67, 15), []string{"beyond-span /count/events"}}, // 260/min, less one at the edge
		{count(2, 15), []string{}}, {count(1, 15), []string{"beyond-span /count/events"}},
		{count(math.MaxInt, 15), []string{"beyond-span /count/events"}},
		{with(count(9, 15), func(f *Finding) { f.Count.Start = "" }), []string{"missing-answer /count/start"}},
		{Finding{Sign: RespiratoryRate, Site: "afar", Count: &Count{Events: 0, Seconds: 15, Start: Anywhere}}, []string{}},
		{Finding{Sign: RespiratoryRate, Site: "afar", Count: &Count{Events: 0, Seconds: 60, Start: Anywhere}}, []string{"beyond-span /count/events"}},

		{taps(0, 1500, 3000), []string{}}, {taps(), []string{"few-taps /taps/atMs"}}, {taps(0), []string{"few-taps /taps/atMs"}},
		{taps(5, 1500), []string{"tap-order /taps/atMs/0"}}, {taps(0, 1500, 1500), []string{"tap-order /taps/atMs/2"}},
		{taps(0, 100), []string{"beyond-span /taps/atMs"}}, // 600 a minute
		{taps(many[:MaxTaps]...), []string{}}, {taps(many...), []string{"many-taps /taps/atMs"}},
		{taps(0, 600_001), []string{"many-taps /taps/atMs"}},

		{read(HeartRate, "36", PerMinute), []string{}}, {read(HeartRate, "36", Celsius), []string{"wrong-unit /reading/unit"}},
		{read(HeartRate, "36", ""), []string{"wrong-unit /reading/unit"}},
		{read(HeartRate, "10", PerMinute), []string{}}, {read(HeartRate, "9.9", PerMinute), []string{"beyond-span /reading/value"}},
		{read(HeartRate, "260", PerMinute), []string{}}, {read(HeartRate, "261", PerMinute), []string{"beyond-span /reading/value"}},
		{with(read(HeartRate, "36", PerMinute), func(f *Finding) { f.Reading.Device = Glass }), []string{"wrong-device /reading/device"}},
		{with(read(HeartRate, "36", PerMinute), func(f *Finding) { f.Reading.Device = "ear" }), []string{"unknown-answer /reading/device"}},
		{with(read(HeartRate, "36", PerMinute), func(f *Finding) { f.Reading.Device = Told }), []string{}},
		// The limit is checked in the unit as read: 37.8 is a temperature in Celsius and none in Fahrenheit.
		{read(RectalTemperature, "37.8", Celsius), []string{}}, {read(RectalTemperature, "37.8", Fahrenheit), []string{"beyond-span /reading/value"}},
		{read(RectalTemperature, "100", Fahrenheit), []string{}}, {read(RectalTemperature, "100", Celsius), []string{"beyond-span /reading/value"}},
		{read(RectalTemperature, "86", Fahrenheit), []string{}}, {read(RectalTemperature, "85.9", Fahrenheit), []string{"beyond-span /reading/value"}},
		{read(RectalTemperature, "37.1234567", Celsius), []string{"implausible-number /reading/value"}},
		{Finding{Sign: RectalTemperature, Reading: &Reading{Value: decimal.New(1, math.MaxInt32), Unit: Celsius}}, []string{"implausible-number /reading/value"}},
		{Finding{Sign: RectalTemperature, Reading: &Reading{Value: decimal.New(1, math.MinInt32), Unit: Celsius}}, []string{"implausible-number /reading/value"}},
		{read(Weight, "1100", Pound), []string{}}, {read(Weight, "3400", Pound), []string{"beyond-span /reading/value"}},
		{read(BodyCondition, "5.5", One), []string{}}, {read(BodyCondition, "0", One), []string{"beyond-span /reading/value"}},
		{read(BodyCondition, "9.5", One), []string{"beyond-span /reading/value"}},

		{timed(CapillaryRefill, 180), []string{}}, {timed(CapillaryRefill, 9), []string{"beyond-span /timed/centiSeconds/0"}},
		{Finding{Sign: CapillaryRefill, Timed: &Timed{}}, []string{"no-try /timed/centiSeconds"}},
		{Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: slices.Repeat([]int{150}, MaxTries+1)}}, []string{"many-tries /timed/centiSeconds"}},

		{girth("180", "160", Centimetre), []string{}}, {girth("71", "63", Inch), []string{}},
		{girth("180", "160", Inch), []string{"beyond-span /girth/girth", "beyond-span /girth/length"}},
		{girth("180", "160", Kilogram), []string{"wrong-unit /girth/unit"}},
		{girth("29", "160", Centimetre), []string{"beyond-span /girth/girth"}},
	} {
		want := x.want
		for i := range want {
			code, path, _ := strings.Cut(want[i], " ")
			want[i] = code + " /findings/0" + path
		}
		td.Cmp(t, coded(CheckExam(examOf(x.f), h)), want, "%+v", x.f)
	}
}

func TestAFaultSpeaksAndCanBeAsked(t *testing.T) {
	t.Parallel()
	err := CheckExam(examOf(read(RectalTemperature, "37.8", Fahrenheit)), animal(TypeHorse, Adult)).Err()
	td.Cmp(t, err.Error(), "/findings/0/reading/value: Please check this number. It must be between 86 and 111.2 °F. Is it a typing mistake?")
	td.CmpTrue(t, errors.Is(err, Fault{Code: FaultBeyondSpan}))
	td.CmpFalse(t, errors.Is(err, Fault{Code: FaultTwoValues}))
	var f Fault
	td.CmpTrue(t, errors.As(err, &f))
	td.Cmp(t, f.Args, []string{"low", "86", "high", "111.2", "unit", "°F"})
}

func TestFaultCodesAreUnique(t *testing.T) {
	t.Parallel()
	seen := map[FaultCode]bool{}
	for _, c := range faultCodes {
		td.CmpFalse(t, seen[c], c)
		seen[c] = true
	}
}

// A sentence whose fields stay in braces was not given its facts.
func TestNoSentenceLacksItsFacts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		e, h := anyExam(t), anyHorse(t)
		for _, f := range append(CheckExam(e, h), CheckHorse(h)...) {
			if !slices.Contains(faultCodes, f.Code) {
				t.Fatalf("code %q is not listed", f.Code)
			}
			said := f.Sentence
			for i := 1; i < len(f.Args); i += 2 {
				said = strings.ReplaceAll(said, f.Args[i], "")
			}
			if strings.ContainsAny(said, "{}") || f.Sentence == "fault."+string(f.Code) || !strings.HasPrefix(f.Path, "/") {
				t.Fatalf("%s: %q", f.Path, f.Sentence)
			}
		}
		// Nothing panics on what was not checked first.
		FiredAlarms(h, e)
		Closed(e)
	})
}

func anyOf[T ~string](t *rapid.T, list []T) T {
	return rapid.SampledFrom(append(slices.Clone(list), "", "odd")).Draw(t, "answer")
}

func anyHorse(t *rapid.T) Horse {
	return Horse{
		ID: ID(rapid.String().Draw(t, "id")), Name: rapid.String().Draw(t, "name"), Type: anyOf(t, allTypes), Sex: anyOf(t, allSexes),
		Born:         Date{rapid.Int().Draw(t, "year"), time.Month(rapid.IntRange(-3, 15).Draw(t, "month")), rapid.IntRange(-3, 40).Draw(t, "day")},
		BornYearOnly: rapid.Bool().Draw(t, "yearOnly"), InFoal: rapid.Bool().Draw(t, "inFoal"), Contacts: []Contact{{}},
	}
}

func anyExam(t *rapid.T) Exam {
	e := Exam{
		ID: ID(rapid.String().Draw(t, "id")), Horse: "h", At: time.Unix(rapid.Int64Range(-1<<34, 1<<34).Draw(t, "at"), 0).UTC(),
		Depth: anyOf(t, allDepths), Purpose: anyOf(t, allPurposes), Status: anyOf(t, allStatuses),
		State: State{Condition: anyOf(t, allConditions), SinceMinutes: rapid.Int().Draw(t, "since"), Effort: anyOf(t, allEfforts), With: rapid.String().Draw(t, "with")},
		Story: &Story{Course: anyOf(t, allCourses), Ask: anyOf(t, allAsks), Given: []Given{{}}},
	}
	for range rapid.IntRange(0, 4).Draw(t, "n") {
		s := rapid.SampledFrom(Catalogue()).Draw(t, "sign")
		f := Finding{Sign: s.ID, Minutes: rapid.Int().Draw(t, "minutes"), Absent: anyOf(t, allAbsences), Note: rapid.String().Draw(t, "note")}
		if len(s.Sites) > 0 && rapid.Bool().Draw(t, "sited") {
			f.Site = rapid.SampledFrom(s.Sites).Draw(t, "site").ID
		}
		if len(s.Grades) > 0 {
			f.Chosen = []GradeID{rapid.SampledFrom(s.Grades).Draw(t, "grade").ID, "odd"}
			f.Where = []SiteID{"head", "odd"}
		}
		number := decimal.New(rapid.Int64().Draw(t, "coefficient"), rapid.Int32().Draw(t, "exponent"))
		switch rapid.IntRange(0, 5).Draw(t, "way") {
		case 0:
			f.Count = &Count{rapid.Int().Draw(t, "events"), rapid.Int().Draw(t, "seconds"), anyOf(t, allStarts)}
		case 1:
			f.Taps = &Taps{rapid.SliceOf(rapid.Int()).Draw(t, "taps")}
		case 2:
			f.Reading = &Reading{Value: number, Unit: anyOf(t, allUnits), Device: anyOf(t, allDevices)}
		case 3:
			f.Timed = &Timed{CentiSeconds: rapid.SliceOf(rapid.Int()).Draw(t, "tries")}
		case 4:
			f.Girth = &Girth{number, number, anyOf(t, allUnits)}
		}
		e.Findings = append(e.Findings, f)
	}
	return e
}
