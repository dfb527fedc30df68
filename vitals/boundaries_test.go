package vitals

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
)

// What may be entered ends where the constants and the published spans say: the last value that is in
// order, and the first that is not.
func TestLimitsOfAHorseAndAnExam(t *testing.T) {
	t.Parallel()
	horse := func(h Horse) []string {
		h.Type = TypeHorse
		if h.ID == "" {
			h.ID = "h"
		}
		if h.Name == "" {
			h.Name = "Anis"
		}
		return coded(CheckHorse(h))
	}
	for c := range 0x80 {
		// Letters, digits, '-', '_' and '.' (doc of ID).
		in := strings.ContainsRune("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.", rune(c))
		td.Cmp(t, len(horse(Horse{ID: ID(rune(c))})) == 0, in, "%q", rune(c))
	}
	for c := range rune(0x200) {
		// Unicode's general category Cc: U+0000 to U+001F, U+007F to U+009F.
		control := c <= 0x1f || c >= 0x7f && c <= 0x9f
		td.Cmp(t, len(horse(Horse{Name: "a" + string(c) + "b"})) == 0, !control, "%q", c)
		td.Cmp(t, len(horse(Horse{Notes: "a" + string(c) + "b"})) == 0, !control || c == '\n' || c == '\t', "%q", c)
	}
	for _, x := range []struct {
		born Date
		only bool
		want []string
	}{
		{Date{1900, 1, 1}, false, []string{}}, {Date{1899, 12, 31}, false, []string{"impossible-day /born"}},
		{Date{2199, 12, 31}, false, []string{}}, {Date{2200, 1, 1}, false, []string{"impossible-day /born"}},
		{Date{2015, 1, 1}, true, []string{}}, {Date{2015, 1, 2}, true, []string{"year-only /bornYearOnly"}},
		{Date{2015, 2, 1}, true, []string{"year-only /bornYearOnly"}},
	} {
		td.Cmp(t, horse(Horse{Born: x.born, BornYearOnly: x.only}), x.want, "%v", x.born)
	}
	for _, s := range []string{"1899-12-31", "2200-01-01", "2015-1-01", "2015-02-29"} {
		_, ok := ParseDate(s)
		td.Cmp(t, ok, false, s)
	}
	td.Cmp(t, horse(Horse{NewUsual: []NewUsual{{Sign: SkinTent, From: testMoment, Said: testMoment}}}), []string{"site-missing /newUsual/0/site"})
	td.Cmp(t, horse(Horse{NewUsual: []NewUsual{{Sign: SkinTent, Site: "neck", From: testMoment, Said: testMoment}}}), []string{})

	year := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 12, 0, 0, 0, time.UTC) }
	for _, x := range []struct {
		at   time.Time
		want []string
	}{
		{year(1900, 1, 1), []string{}}, {year(1899, 12, 31), []string{"impossible-time /at"}},
		{year(2199, 12, 31), []string{}}, {year(2200, 1, 1), []string{"impossible-time /at"}},
	} {
		e := examOf()
		e.At = x.at
		td.Cmp(t, coded(CheckExam(e, Horse{ID: "h"})), x.want, "%v", x.at)
	}
	for _, x := range []struct {
		path, value string
		unit        Unit
		ok          bool
	}{
		{"temperature", "-60", Celsius, true}, {"temperature", "-60.1", Celsius, false}, {"temperature", "60", Celsius, true}, {"temperature", "60.1", Celsius, false},
		{"temperature", "-76", Fahrenheit, true}, {"temperature", "-76.1", Fahrenheit, false}, {"temperature", "140", Fahrenheit, true}, {"temperature", "140.1", Fahrenheit, false},
		{"humidity", "0", Percent, true}, {"humidity", "-0.1", Percent, false}, {"humidity", "100", Percent, true}, {"humidity", "100.1", Percent, false},
	} {
		e, r := examOf(), &Reading{Value: dec(x.value), Unit: x.unit}
		if e.Air = (&Air{Temperature: r}); x.path == "humidity" {
			e.Air = &Air{Humidity: r}
		}
		want := []string{}
		if !x.ok {
			want = []string{"out-of-range /air/" + x.path + "/value"}
		}
		td.Cmp(t, coded(CheckExam(e, Horse{ID: "h"})), want, "%+v", x)
	}
	for metres, ok := range map[string]bool{"0.9": false, "1": true, "500": true, "500.1": false} {
		e := examOf()
		e.State.Condition = AfterWork
		e.Trot = &Trot{Before: "before", OutMetres: dec(metres), Clock: FromTrotStart, Seconds: MaxTrotSeconds}
		td.Cmp(t, len(CheckExam(e, Horse{ID: "h"})) == 0, ok, metres)
	}
}

func TestLimitsOfAFinding(t *testing.T) {
	t.Parallel()
	evenly := func(n, gap int) Finding {
		ms := make([]int, n)
		for i := range ms {
			ms[i] = i * gap
		}
		return Finding{Sign: HeartRate, Taps: &Taps{AtMS: ms}}
	}
	count := func(n, s int) Finding {
		return Finding{Sign: HeartRate, Count: &Count{Events: n, Seconds: s, Start: OnBeat}}
	}
	girth := func(g, l string, u Unit) Finding {
		return Finding{Sign: Weight, Girth: &Girth{dec(g), dec(l), u}}
	}
	tries := Finding{Sign: CapillaryRefill, Timed: &Timed{}}
	for range MaxTries {
		tries.Timed.CentiSeconds = append(tries.Timed.CentiSeconds, 150)
	}
	for _, x := range []struct {
		f    Finding
		want []string
	}{
		// A heart rate can be 10 to 260; a count is taken as it could be at most and at least.
		{count(22, 5), []string{}}, {count(23, 5), []string{"beyond-span /count/events"}},
		{count(1301, 300), []string{}}, {count(1302, 300), []string{"beyond-span /count/events"}},
		{count(49, 300), []string{}}, {count(48, 300), []string{"beyond-span /count/events"}},
		{evenly(2, 231), []string{}}, {evenly(2, 230), []string{"beyond-span /taps/atMs"}}, // 259.7, 260.9
		{evenly(301, 2000), []string{}}, {evenly(302, 2000), []string{"many-taps /taps/atMs"}}, // ten minutes, and two seconds more
		{evenly(MaxTaps, 1000), []string{}}, {evenly(MaxTaps+1, 900), []string{"many-taps /taps/atMs"}},
		{tries, []string{}},
		{choose(Droppings, "", "usual"), []string{}},
		// 30 and 300 cm are 11.8 and 118.1 in.
		{girth("30", "300", Centimetre), []string{}}, {girth("29.9", "300.1", Centimetre), []string{"beyond-span /girth/girth", "beyond-span /girth/length"}},
		{girth("11.9", "118.1", Inch), []string{}}, {girth("11.8", "118.2", Inch), []string{"beyond-span /girth/girth", "beyond-span /girth/length"}},
	} {
		want := []string{}
		for _, w := range x.want {
			code, path, _ := strings.Cut(w, " ")
			want = append(want, code+" /findings/0"+path)
		}
		td.Cmp(t, coded(CheckExam(examOf(x.f), Horse{ID: "h"})), want, "%+v", x.f)
	}
	// What a count of no number may be is told for its window: 260 a minute are 65 in 15 s.
	td.Cmp(t, CheckExam(examOf(count(-1, 15)), Horse{ID: "h"})[0].Args, []string{"low", "0", "high", "65", "unit", ""})
	for _, x := range []struct {
		value decimal.Decimal
		ok    bool
	}{
		{decimal.New(1, -6), true}, {decimal.New(1, -7), false}, {decimal.New(1, 6), true}, {decimal.New(1, 7), false},
		{decimal.New(999_999_999_999, -6), true}, {decimal.New(1_000_000_000_000, -6), false},
	} {
		td.Cmp(t, plausible(x.value), x.ok, "%v", x.value)
	}
}

func TestLimitsOfTheInstruments(t *testing.T) {
	t.Parallel()
	fine := func(err error) string {
		if err == nil {
			return ""
		}
		return coded(err.(Faults))[0]
	}
	for _, x := range []struct {
		events int
		window time.Duration
		want   string
	}{
		{MaxEvents, 300 * time.Second, ""}, {MaxEvents + 1, 300 * time.Second, "out-of-range /events"}, {0, 5 * time.Second, ""},
		{9, 5*time.Second - 1, "out-of-range /seconds"}, {9, 300*time.Second + 1, "out-of-range /seconds"},
	} {
		_, err := FromCount(x.events, x.window, Anywhere)
		td.Cmp(t, fine(err), x.want, "%+v", x)
	}
	for _, x := range []struct {
		tries []int
		want  string
	}{
		{[]int{1}, ""}, {[]int{0}, "out-of-range /centiSeconds/0"}, {[]int{MaxCentiSeconds}, ""}, {[]int{MaxCentiSeconds + 1}, "out-of-range /centiSeconds/0"},
		{make([]int, MaxTries+1), "many-tries /centiSeconds"},
	} {
		_, err := FromTries(Timed{CentiSeconds: x.tries})
		td.Cmp(t, fine(err), x.want, "%v", x.tries)
	}
	twenty := Timed{}
	for range MaxTries {
		twenty.CentiSeconds = append(twenty.CentiSeconds, 150)
	}
	_, err := FromTries(twenty)
	td.CmpNoError(t, err)
	for tape, want := range map[string]string{"40": "", "39.9": "out-of-range /girth", "300": "", "300.1": "out-of-range /girth"} {
		_, err := FromGirth(Girth{dec(tape), dec("100"), Centimetre}, TypeHorse, Adult)
		td.Cmp(t, fine(err), want, tape)
	}
	_, err = Finding{Sign: Weight}.Measure(mustSign(t, Weight))
	td.Cmp(t, fine(err), "no-value ")
	_, err = ParseTyped("kg", UnitsOf(Celsius)...)
	td.Cmp(t, fine(err), "wrong-unit /unit")

	// ASTM E1112: ±0.2 from 35.8, ±0.2 from 39 on, ±0.3 from 41 on; ISO 80601-2-56: ±0.3 within 34 to 42 °C.
	for _, x := range []struct {
		device Device
		value  float64
		limit  float64
	}{
		{Digital, 35.7, 0.3}, {Digital, 35.8, 0.2}, {Digital, 36.9, 0.2}, {Digital, 37, thirdOfF}, {Digital, 38.9, thirdOfF}, {Digital, 39, 0.2}, {Digital, 40.9, 0.2}, {Digital, 41, 0.3},
		{Predictive, 33.9, 0.4}, {Predictive, 34, 0.3}, {Predictive, 41.9, 0.3}, {Predictive, 42, 0.4},
	} {
		got, ok := toleranceOf(x.device, Celsius, x.value)
		td.Cmp(t, ok, true)
		td.Cmp(t, got.Limit, x.limit, "%+v", x)
	}
	// A temperature is never compared with another thing.
	_, ok := DeviceChange(Reading{Unit: Kilogram, Device: Scale}, Reading{Unit: Celsius, Device: Digital})
	td.Cmp(t, ok, false)
	_, ok = DeviceChange(Reading{Unit: Celsius, Device: Glass}, Reading{Unit: Kilogram, Device: Scale})
	td.Cmp(t, ok, false)

	for _, x := range []struct {
		value  string
		places int
		want   string
	}{
		{"38.46", 1, "38.5"}, {"38.4", 1, "38.4"}, {"38.4", 0, "38"}, {"38", 0, "38"}, {"40", -1, "40"}, {"38", 12, "38.000000000000"}, {"38", 20, "38.000000000000"},
	} {
		got, err := Convert(dec(x.value), Kilogram, Kilogram, x.places)
		td.CmpNoError(t, err)
		td.Cmp(t, AsRead(got), x.want)
	}
	s, ok := LookupSource("astm-e1112")
	td.Cmp(t, ok, true)
	td.Cmp(t, s.ID, SourceID("astm-e1112"))
}

// FEI 2019, article 821.2.3: 15 s and 16 beats, 30 s and 32 beats, else the full minute.
func TestCountOnAtEachLimit(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		events, seconds int
		want            string
	}{
		{3, 14, "count-longer 15"}, {16, 15, "count-enough "}, {17, 15, "count-longer 30"}, {32, 15, "count-longer 30"}, {33, 15, "count-full-minute "},
		{16, 29, "count-enough "}, {32, 29, "count-longer 30"}, {16, 30, "count-enough "}, {32, 30, "count-enough "}, {33, 30, "count-full-minute "},
		{33, 59, "count-full-minute "}, {80, 60, "count-enough "},
	} {
		got := CountOn(x.events, time.Duration(x.seconds)*time.Second, false)
		said := got.ID + " "
		if len(got.Args) > 0 {
			said += got.Args[1]
		}
		td.Cmp(t, said, x.want, "%+v", x)
	}
}

// answered is what must be usual beside rolling at its hour.
func answered() []Finding {
	return []Finding{choose(DoingUsual, "", "usual"), choose(Feed, "", "usual"), choose(Droppings, "", "usual"), choose(Coat, "", "smooth")}
}

// Signs of belly pain, as [FiredAlarms] lists them.
func TestSignsOfPain(t *testing.T) {
	t.Parallel()
	usual := choose(DoingUsual, "", "usual")
	for _, x := range []struct {
		findings []Finding
		pain     bool
	}{
		{nil, false},
		{[]Finding{choose(PainSigns, "", "none")}, false}, {[]Finding{choose(PainSigns, "", "paws")}, true}, {[]Finding{choose(Doing, "", "eating")}, false},
		{[]Finding{choose(Attitude, "", "dull")}, false}, {[]Finding{choose(Attitude, "", "down-thrashing")}, true},
		{[]Finding{choose(Doing, "", "watching-flank")}, true}, {[]Finding{choose(Doing, "", "watching-flank"), usual}, true},
		{[]Finding{choose(Doing, "", "rolling")}, true}, {[]Finding{choose(Doing, "", "pawing")}, true},
		{[]Finding{choose(Doing, "", "rolling"), usual}, true}, {[]Finding{choose(Doing, "", "pawing"), usual}, true}, {[]Finding{choose(Doing, "", "lying")}, false},
		{[]Finding{choose(PainSigns, "", "lies-more", "leaves-feed")}, false},
		// Quiet only where everything beside it was answered and is usual.
		{append(answered(), choose(Doing, "", "rolling")), false},
		{append(answered(), choose(Doing, "", "rolling", "watching-flank")), true},
		{append(answered()[1:], choose(Doing, "", "rolling")), true},
		{append(answered()[:3], choose(Doing, "", "rolling")), true},
		{append(answered(), choose(Doing, "", "pawing"), read(HeartRate, "47", PerMinute)), false},
		{append(answered(), choose(Doing, "", "pawing"), read(HeartRate, "48", PerMinute)), true},
		{append(answered(), choose(Doing, "", "pawing"), choose(Attitude, "", "dull")), true},
	} {
		e := examOf(x.findings...)
		var v view
		v.look(Horse{}, &e, nil)
		td.Cmp(t, v.inPain(), x.pain, "%+v", x.findings)
	}
}

func TestSitesOfAnAlarm(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	fast := func(site SiteID) Finding {
		f := read(HeartRate, "72", PerMinute)
		f.Site = site
		return f
	}
	later := fast("jaw")
	later.Minutes = 5
	fired := FiredAlarms(h, examOf(fast(""), fast("jaw"), later, fast("chest-left")))
	td.Cmp(t, fired, td.Len(1))
	td.Cmp(t, fired[0].Sites, []SiteID{"jaw", "chest-left"})
	td.Cmp(t, FiredAlarms(h, examOf(fast("")))[0].Sites, td.Empty())

	// Silence is silence everywhere that was listened to.
	silent := []Finding{choose(GutSounds, "flank-left", "none"), choose(GutSounds, "flank-right", "none")}
	td.Cmp(t, firedIDs(h, examOf(silent...)), []AlarmID{"gut-silent"})
	td.Cmp(t, firedIDs(h, examOf(append(silent, choose(GutSounds, "gut-upper-left", "less"))...)), []AlarmID{"gut-part-silent"})
	td.Cmp(t, firedIDs(h, examOf(append(silent, Finding{Sign: GutSounds, Site: "gut-upper-left", Absent: CouldNot})...)), []AlarmID{"gut-silent"})

	three := Sign{Sites: []Site{{ID: "a", Depth: WalkUp}, {ID: "b", Depth: HandsOn}, {ID: "c", Depth: HandsOn}, {ID: "d", Depth: Full}}}
	td.Cmp(t, coversDepth(&three, []SiteID{"b", "c"}), true)
	td.Cmp(t, coversDepth(&three, []SiteID{"b"}), false)
	td.Cmp(t, coversDepth(&three, nil), false)
	td.Cmp(t, signsOf(examOf(Finding{Sign: HeartRate, Absent: CouldNot}, choose("no-such-sign", "", "x"), fast(""), choose(GutSounds, "flank-left", "none"), fast("jaw")), nil),
		[]int8{-1, -1, int8(catalogueIndex[HeartRate]), int8(catalogueIndex[GutSounds]), int8(catalogueIndex[HeartRate])})
}

// Of several counts the last of each is taken; of two at one time, the one entered last.
func TestInversionTakesTheLast(t *testing.T) {
	t.Parallel()
	beats := func(n string) Finding { return read(HeartRate, n, PerMinute) }
	breaths := func(n string) Finding { return read(RespiratoryRate, n, PerMinute) }
	a, ok := Inversion(examOf(beats("60"), beats("40"), breaths("80"), breaths("50")))
	td.Cmp(t, ok, true)
	td.Cmp(t, a.Args, []string{"breaths", "50", "beats", "40"})
	_, ok = Inversion(examOf(beats("40"), breaths("40")))
	td.Cmp(t, ok, false)
}

// Of the answers that hold, the one that counts from the latest reading on, in whatever order they stand.
func TestUsualFromTheLatest(t *testing.T) {
	t.Parallel()
	on := func(days int) time.Time { return testMoment.AddDate(0, 0, days) }
	for _, order := range [][]int{{10, 20, 15}, {20, 10, 15}, {15, 10, 20}} {
		var h Horse
		for _, days := range order {
			h.NewUsual = append(h.NewUsual, NewUsual{Sign: HeartRate, From: on(days), Said: on(days)})
		}
		u, ok := h.UsualFrom(HeartRate, "", on(30))
		td.Cmp(t, ok, true)
		td.Cmp(t, u.From, on(20), "%v", order)
	}
}

// A time is doubted more than a day before the birth, more than 65 years after it, and outside 1900 to 2199. It
// counts as that of an adult of unknown age, and every rule on what is seen still holds.
func TestDatesInDoubt(t *testing.T) {
	t.Parallel()
	born := Horse{ID: "h", Type: TypeHorse, Born: Date{2015, 4, 9}}
	moment := func(text string) time.Time {
		at, err := time.Parse(time.RFC3339, text)
		td.Require(t).CmpNoError(err)
		return at
	}
	for text, want := range map[string]DateDoubt{
		"2015-04-07T23:59:59Z": DateBeforeBirth, "2015-04-08T00:00:00Z": DateSound,
		"2015-04-08T23:00:00-09:00": DateSound, "1999-01-01T00:00:00Z": DateBeforeBirth, "1899-01-01T00:00:00Z": DateBeforeBirth,
		"2080-04-09T00:00:00Z": DateSound, "2080-04-09T00:00:01Z": DateFar, "9999-12-31T00:00:00Z": DateFar,
	} {
		td.Cmp(t, born.DateDoubt(moment(text)), want, text)
		stage, known := born.StageAt(moment(text))
		td.Cmp(t, known, want == DateSound, text)
		if want != DateSound {
			td.Cmp(t, stage, Adult, text)
		}
	}
	unknown := Horse{ID: "h", Type: TypeHorse}
	td.Cmp(t, unknown.DateDoubt(moment("1899-12-31T00:00:00Z")), DateFar)
	td.Cmp(t, unknown.DateDoubt(moment("1900-01-01T00:00:00Z")), DateSound)
	td.Cmp(t, unknown.DateDoubt(moment("2200-01-01T00:00:00Z")), DateFar)
	e := examOf(choose(Attitude, "", "down-not-rising"), choose(Navel, "", "swollen"))
	for _, at := range []string{"2013-01-01T00:00:00Z", "2162-01-01T00:00:00Z"} {
		e.At = moment(at)
		td.Cmp(t, Strongest(FiredAlarms(born, e)), RingNow, at)
		// A foal whose date is wrong: what is seen of its navel is told too.
		td.Cmp(t, FiredAlarms(born, e), td.Contains(td.Struct(Fired{Sign: Navel}, td.StructFields{
			"Alarm": td.Ignore(), "Urgency": td.Ignore(), "Minutes": td.Ignore(), "Then": td.Ignore(), "With": td.Ignore(),
			"Sites": td.Ignore(), "Problem": td.Ignore(), "First": td.Ignore(), "Provenance": td.Ignore()})), at)
	}
}

// The moment of birth counts for the age where it lies at the day of birth, in whatever zone it was written.
func TestTheMomentOfBirth(t *testing.T) {
	t.Parallel()
	noon := time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC)
	foal := Horse{ID: "h", Name: "Anis", Type: TypeHorse, Born: DateOf(noon)}
	for _, x := range []struct {
		bornAt time.Time
		stage  Stage // 30 hours after that noon
	}{
		{time.Time{}, Neonate}, {noon, Neonate}, {noon.Add(7 * time.Hour), Newborn}, {noon.AddDate(0, 0, 2), Neonate}, {noon.AddDate(1, 0, 0), Neonate},
	} {
		foal.BornAt = x.bornAt
		td.Cmp(t, CheckHorse(foal), td.Empty(), "%v", x.bornAt)
		stage, known := foal.StageAt(noon.Add(30 * time.Hour))
		td.Cmp(t, []any{stage, known}, []any{x.stage, true}, "%v", x.bornAt)
	}
	foal.BornAt = time.Date(1899, 5, 3, 12, 0, 0, 0, time.UTC)
	td.Cmp(t, coded(CheckHorse(foal)), []string{"impossible-time /bornAt"})
}

// Whoever writes that nothing was given has given nothing; whatever else is written counts.
func TestNothingGiven(t *testing.T) {
	t.Parallel()
	for what, want := range map[string]bool{
		"nothing": false, "Nothing.": false, "nada": false, "none": false, "-": false, " ": false,
		"bute": true, "nothing but paste": true, "no idea": true, "soaked hay": false, "n/a": false,
		"No, nothing": false, "none given yet": false, "nada todavía": false, "bran mash": false, "2 carrots and water": false, "salvado tibio": false,
		"bran mash with bute": true, "bute in a mash": true, "a paste": true, "zanahorias con fenil": true,
	} {
		e := Exam{At: testMoment, Story: &Story{Given: []Given{{What: what}}}}
		td.Cmp(t, e.Masked(), want, what)
	}
	for _, g := range []Given{{What: "none", Dose: "10 ml"}, {What: "mash", Dose: "2 g"}, {What: "500mg in an apple"}} {
		e := Exam{At: testMoment, Story: &Story{Given: []Given{g}}}
		td.Cmp(t, e.Masked(), true, "%v", g)
	}
	e := Exam{At: testMoment, Story: &Story{Given: []Given{{What: "bran mash", Dose: "1 bucket"}}}}
	td.Cmp(t, e.Masked(), false)

	// Water on the legs is no painkiller, in the story or where the state asks what was given; a state of which nobody says with what may be one.
	for what, want := range map[string]bool{
		"hosed her legs": false, "cold water on the legs for 10 minutes": false, "cooled down with water, 20 min": false, "manguera fría en las patas": false, "agua fría en las manos": false,
		"cooling gel": true, "hosed, then bute": true, "water with 2 ml": true, "on the legs": true,
	} {
		e := Exam{At: testMoment, Story: &Story{Given: []Given{{What: what}}}}
		td.Cmp(t, e.Masked(), want, what)
		e = Exam{At: testMoment, State: State{Condition: Medicated, With: what}}
		td.Cmp(t, e.Masked(), want, what)
	}
	td.CmpTrue(t, (&Exam{At: testMoment, State: State{Condition: Medicated}}).Masked())
	td.CmpTrue(t, (&Exam{At: testMoment, State: State{Condition: Medicated, With: "nothing"}}).Masked())
}
