package baseline

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func TestNothingEntered(t *testing.T) {
	t.Parallel()
	c, err := must(New(aHorse())).Compare(tonight(0))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Signs, td.Empty())
	td.Cmp(t, c.Overall, Overall{P: 1, Level: .05}, "the false-alarm rate (alpha) is 1 well exam in 20")
	td.Cmp(t, len(c.Unchecked), td.Gte(20), "a full exam without a finding is not a normal one")
	for _, u := range c.Unchecked {
		td.Cmp(t, u.Reason, vitals.NotTried)
	}
}

func TestNoTime(t *testing.T) {
	t.Parallel()
	_, err := must(New(aHorse())).Compare(vitals.Exam{Horse: "h1"})
	td.CmpErrorIs(t, err, vitals.Fault{Code: vitals.FaultBadMoment, Path: "/at"})
}

// Every finding that cannot be computed is named, at its place.
func TestFaultsAllAtOnce(t *testing.T) {
	t.Parallel()
	_, err := must(New(aHorse())).Compare(tonight(0, vitals.Finding{Sign: "no-such-sign"}, heart(34), vitals.Finding{Sign: vitals.HeartRate}))
	faults, ok := err.(vitals.Faults)
	td.CmpTrue(t, ok)
	var at []string
	for _, f := range faults {
		at = append(at, f.Path)
	}
	td.Cmp(t, at, td.Len(td.Gte(2)))
	td.Cmp(t, at[0], td.HasPrefix("/findings/0"))
	td.Cmp(t, at[len(at)-1], td.HasPrefix("/findings/2"))
}

// An athlete whose heart beats 26 on every quiet day: 40 is inside every printed range and far out for him.
func TestQuietAthlete(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i, rate := range []int{26, 27, 25, 26, 26, 28, 26, 25} {
		exams = append(exams, quiet(float64(7*i), heart(rate)))
	}
	night := tonight(60, heart(40))
	c, err := must(New(aHorse())).Compare(night)
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.HeartRate).Statement, AsUsual, "before the first exam 40 is a usual rate")
	td.CmpTrue(t, hasWarning(one(c, vitals.HeartRate).Warnings, WarnNoExams))

	c, err = learned(aHorse(), exams...).Compare(night)
	td.CmpNoError(t, err)
	got := one(c, vitals.HeartRate)
	td.Cmp(t, got.Statement, Higher)
	td.CmpTrue(t, got.Strong)
	td.Cmp(t, got.Tail, td.Lt(.001))
	td.Cmp(t, got.P, td.Between(2*got.Tail-1e-15, 2*got.Tail+1e-15))
	td.Cmp(t, got.Basis, td.Struct(Basis{Exams: 8}, nil))
	td.Cmp(t, got.Own.High, td.Lt(34.))
	td.CmpFalse(t, got.Basis.Weak)
	td.CmpTrue(t, c.Overall.Unusual)
	for _, p := range got.Printed {
		if p.Mark == vitals.Read && p.High != nil && *p.High < 40 {
			t.Errorf("printed range below 40: %+v", p)
		}
	}
}

// The interval is that of the reading as it was taken: a coarse count gets a wide one.
func TestCoarseCountWiderInterval(t *testing.T) {
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(34)), quiet(7, heart(35)), quiet(14, heart(34)), quiet(21, heart(33)))
	fine, _ := b.Compare(tonight(30, heart(36)))
	coarse, _ := b.Compare(tonight(30, counted(vitals.HeartRate, 9, 15)))
	f, c := one(fine, vitals.HeartRate).Own, one(coarse, vitals.HeartRate).Own
	td.Cmp(t, c.High-c.Low, td.Gt(f.High-f.Low))
}

// A whole exam of one sign counts it once, by its most precise reading.
func TestTwoReadingsOfOneExam(t *testing.T) {
	t.Parallel()
	afar := counted(vitals.RespiratoryRate, 3, 15)
	afar.Site = "afar"
	flank := counted(vitals.RespiratoryRate, 12, 60)
	flank.Site = "flank"
	b := learned(aHorse(), quiet(0, afar, flank))
	n, ok := b.Normal(vitals.RespiratoryRate, "", spring.AddDate(0, 0, 3))
	td.CmpTrue(t, ok)
	td.Cmp(t, n.Readings, td.Len(1))
	td.Cmp(t, n.Readings[0].Value, 12.)
	c, _ := b.Compare(tonight(3, afar, flank))
	td.Cmp(t, c.Signs, td.Len(2), "both are compared")
	td.Cmp(t, c.Overall.Signs, 1, "and count as one sign")
}

func TestStateAndDraftAreSaid(t *testing.T) {
	t.Parallel()
	for condition, key := range map[vitals.Condition]string{
		vitals.AfterWork: WarnAfterWork, vitals.Excited: WarnExcited, vitals.Medicated: WarnMedicated,
	} {
		e := tonight(0, heart(50))
		e.State.Condition = condition
		c, err := must(New(aHorse())).Compare(e)
		td.CmpNoError(t, err)
		td.CmpTrue(t, hasWarning(c.Warnings, key))
		td.Cmp(t, one(c, vitals.HeartRate).Statement, Higher, "it is compared all the same")
	}
	e := tonight(0, heart(50))
	e.Status = vitals.Draft
	c, _ := must(New(aHorse())).Compare(e)
	td.CmpTrue(t, hasWarning(c.Warnings, WarnDraft))
	td.CmpTrue(t, hasWarning(c.Warnings, WarnAgeUnknown))
}

// Another thermometer than on the quiet days is said.
func TestDeviceChanged(t *testing.T) {
	t.Parallel()
	blue := degrees("37.6")
	blue.Reading.Label = "blue one"
	b := learned(aHorse(), quiet(0, blue), quiet(7, blue))
	c, _ := b.Compare(tonight(14, blue))
	td.CmpFalse(t, hasWarning(one(c, vitals.RectalTemperature).Warnings, WarnDeviceChanged))
	c, _ = b.Compare(tonight(14, degrees("37.6")))
	said := one(c, vitals.RectalTemperature).Warnings
	i := slices.IndexFunc(said, func(w Warning) bool { return w.Key == WarnDeviceChanged })
	td.CmpGte(t, i, 0)
	// The published size of the effect, with its source: Hine, NZ Vet J 2015, 0.89 degrees Celsius.
	td.Cmp(t, said[i].Args, []string{"device", "digital", "label", "", "size", "0.9", "unit", "Cel", "source", "hine-2015", "mark", "read"})
}

// The heat sum of a hot day is said after work and, at rest, only where it is high; more
// breaths than heart beats are said whenever they were counted. Both name their source.
func TestAdviceOnTheWholeExam(t *testing.T) {
	t.Parallel()
	air := func(fahrenheit, humidity string) *vitals.Air {
		return &vitals.Air{
			Temperature: &vitals.Reading{Value: decimal.RequireFromString(fahrenheit), Unit: vitals.Fahrenheit},
			Humidity:    &vitals.Reading{Value: decimal.RequireFromString(humidity), Unit: vitals.Percent},
		}
	}
	heat := func(sum string) []string {
		return []string{"sum", sum, "source", "extension-horses-heat", "mark", "second-hand"}
	}
	for _, x := range []struct {
		condition vitals.Condition
		purpose   vitals.Purpose
		air       *vitals.Air
		breaths   int
		want      []Warning
	}{
		{vitals.AtRest, vitals.Routine, nil, 12, nil},
		{vitals.AtRest, vitals.Routine, air("70", "40"), 12, nil},
		{vitals.AtRest, vitals.Recovery, air("70", "40"), 12, []Warning{{"advice.heat-easy", heat("110")}}},
		{vitals.AfterWork, vitals.Routine, air("80", "60"), 12, []Warning{{"advice.heat-help", heat("140")}}},
		{vitals.AtRest, vitals.Routine, air("95", "70"), 12, []Warning{{"advice.heat-watch", heat("165")}}},
		{vitals.AtRest, vitals.Routine, nil, 60, []Warning{{"advice.breaths-above-beats",
			[]string{"breaths", "60", "beats", "50", "source", "endurance-archive", "mark", "second-hand"}}}},
	} {
		e := tonight(0, heart(50), vitals.Finding{Sign: vitals.RespiratoryRate,
			Count: &vitals.Count{Events: x.breaths, Seconds: 60, Start: vitals.Anywhere}})
		e.State.Condition, e.Purpose, e.Air = x.condition, x.purpose, x.air
		c, err := must(New(aHorse())).Compare(e)
		td.CmpNoError(t, err)
		var got []Warning
		for _, w := range c.Warnings {
			if strings.HasPrefix(w.Key, prefixAdvice) {
				got = append(got, w)
			}
		}
		td.Cmp(t, got, x.want)
	}
}

// An evening warmer than every morning learned is what the daily rhythm expects.
func TestEveningAfterMornings(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i, x := range []string{"37.4", "37.5", "37.4", "37.3", "37.5", "37.4"} {
		exams = append(exams, quiet(float64(7*i), degrees(x)))
	}
	b := learned(aHorse(), exams...)
	evening := tonight(42, degrees("37.9"))
	evening.At = evening.At.Add(12 * 3600e9)
	c, err := b.Compare(evening)
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.RectalTemperature).Statement, AsUsual)
	c, _ = b.Compare(tonight(42, degrees("38.4")))
	td.Cmp(t, one(c, vitals.RectalTemperature).Statement, Higher, "in the morning")
}

func TestUnchecked(t *testing.T) {
	t.Parallel()
	e := tonight(0, shown(vitals.Attitude, "", "bright"), vitals.Finding{Sign: vitals.GumColour, Absent: vitals.CouldNot},
		shown(vitals.DigitalPulse, "fore-left", "faint"))
	e.Depth = vitals.HandsOn
	c, err := must(New(aHorse())).Compare(e)
	td.CmpNoError(t, err)
	has := func(u Unchecked) bool {
		for _, x := range c.Unchecked {
			if x == u {
				return true
			}
		}
		return false
	}
	td.CmpTrue(t, has(Unchecked{Sign: vitals.GumColour, Reason: vitals.CouldNot}))
	td.CmpTrue(t, has(Unchecked{Sign: vitals.HeartRate, Reason: vitals.NotTried}))
	td.CmpTrue(t, has(Unchecked{Sign: vitals.DigitalPulse, Site: "fore-right", Reason: vitals.NotTried}))
	td.CmpFalse(t, has(Unchecked{Sign: vitals.DigitalPulse, Site: "fore-left", Reason: vitals.NotTried}))
	td.CmpFalse(t, has(Unchecked{Sign: vitals.Attitude, Reason: vitals.NotTried}))
	for _, u := range c.Unchecked {
		td.Cmp(t, u.Sign, td.Not(vitals.RectalTemperature), "not a step of this depth")
	}
}

// One foot of four.
func TestOtherSide(t *testing.T) {
	t.Parallel()
	c, err := must(New(aHorse())).Compare(tonight(0, shown(vitals.DigitalPulse, "fore-left", "bounding"), shown(vitals.DigitalPulse, "fore-right", "faint")))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Signs[0].Warnings, td.Contains(Warning{Key: WarnOtherSide, Args: []string{"site", "fore-right", "grade", "faint"}}))
	td.CmpFalse(t, hasWarning(c.Signs[1].Warnings, WarnOtherSide))
}

// Weight and condition are compared with the animal's own only, and a growing one's not at all.
func TestOwnOnly(t *testing.T) {
	t.Parallel()
	weight, _ := vitals.Lookup(vitals.Weight)
	c, err := must(New(aHorse())).Compare(tonight(0, entered(weight, 510)))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Signs[0].Statement, Noted)
	td.Cmp(t, c.Signs[0].P, 0.)
	b := learned(aHorse(), quiet(0, entered(weight, 510)), quiet(30, entered(weight, 515)), quiet(60, entered(weight, 508)), quiet(90, entered(weight, 512)))
	c, _ = b.Compare(tonight(100, entered(weight, 430)))
	td.Cmp(t, c.Signs[0].Statement, Lower)
	foal := aHorse()
	foal.Born = vitals.DateOf(spring.AddDate(0, -8, 0))
	c, _ = learned(foal, quiet(0, entered(weight, 230))).Compare(tonight(20, entered(weight, 300)))
	td.Cmp(t, c.Signs[0].Statement, Noted)
}

// A reading a little above the limit of a coarse count asks for a minute; one far out does not.
func TestSettle(t *testing.T) {
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(34)), quiet(7, heart(37)), quiet(14, heart(31)), quiet(21, heart(34)), quiet(28, heart(38)))
	asks := func(events int) *Settle {
		c, err := b.Compare(tonight(35, counted(vitals.HeartRate, events, 15)))
		td.CmpNoError(t, err)
		return one(c, vitals.HeartRate).Settle
	}
	n, _ := b.Normal(vitals.HeartRate, "", spring.AddDate(0, 0, 35))
	near := int(math.Round(n.Own.High / 4))
	got := asks(near)
	if td.CmpNotNil(t, got, "%d beats in 15 s, high limit %.1f", near, n.Own.High) {
		td.Cmp(t, got.Advice, SettleCount)
		// Flat rule, worked out by hand: Phi(-d/r), with the limits for a minute's count.
		td.Cmp(t, got.Chance, td.Between(.15, .5))
	}
	td.CmpNil(t, asks(20), "80 a minute")
	td.CmpNil(t, asks(int(n.Own.Mid/4+.5)), "the middle")
	c, _ := b.Compare(tonight(35, heart(near*4)))
	td.CmpNil(t, one(c, vitals.HeartRate).Settle, "a full minute was counted")
}

// Signs are looked at together: many small deviations make the exam farther from usual than any one.
func TestFar(t *testing.T) {
	t.Parallel()
	far := func(f ...vitals.Finding) float64 {
		c, err := must(New(aHorse())).Compare(tonight(0, f...))
		td.CmpNoError(t, err)
		return c.Overall.Far
	}
	pale, fast, slow := shown(vitals.GumColour, "", "pale-pink"), heart(52), timed(vitals.CapillaryRefill, "", 280)
	td.Cmp(t, far(fast, pale), td.Gt(far(heart(34), pale)))
	td.Cmp(t, far(fast, pale, slow), td.Gt(far(fast, pale, timed(vitals.CapillaryRefill, "", 150))))
	td.Cmp(t, far(heart(34), shown(vitals.GumColour, "", "pink")), td.Between(-1., .5))
	td.Cmp(t, far(heart(90)), td.Gt(far(heart(70))))
}

// One sign a little out among many is what chance does, and the comparison says so, but not beside a reason to call.
func TestManySigns(t *testing.T) {
	t.Parallel()
	usual := []vitals.Finding{counted(vitals.RespiratoryRate, 12, 60), shown(vitals.Attitude, "", "bright"),
		shown(vitals.GumColour, "", "pink"), shown(vitals.Feed, "", "usual"), shown(vitals.Coat, "", "smooth")}
	c, err := must(New(aHorse())).Compare(tonight(0, append(usual, heart(23))...))
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.HeartRate).Statement, Lower)
	td.Cmp(t, c.Alarms, td.Empty())
	td.CmpFalse(t, c.Overall.Unusual, "p %v", c.Overall.P)
	td.Cmp(t, c.Warnings, td.Contains(Warning{Key: WarnAmong, Args: []string{"n", "6", "of", "18"}}))
	c, _ = must(New(aHorse())).Compare(tonight(0, usual...))
	td.CmpFalse(t, hasWarning(c.Warnings, WarnAmong))
	c, _ = must(New(aHorse())).Compare(tonight(0, append(usual, heart(52))...))
	td.Cmp(t, c.Alarms, td.NotEmpty())
	td.CmpFalse(t, hasWarning(c.Warnings, WarnAmong))
}

// Every rule of one measured sign fires beyond its threshold with its source, whatever the horse's
// own usual says: twelve quiet exams at the very value do not silence it.
func TestAlarmsWhateverIsUsual(t *testing.T) {
	t.Parallel()
	fired := 0
	for _, a := range vitals.Alarms() {
		sign, ok := vitals.Lookup(a.Sign)
		if !ok || !sign.Kind.Measured() || len(a.With)+len(a.Any) > 0 {
			continue
		}
		animal, stage := vitals.TypeHorse, vitals.Adult
		if len(a.Types) > 0 {
			animal = a.Types[0]
		}
		if len(a.Stages) > 0 {
			stage = a.Stages[len(a.Stages)-1]
		}
		horse, noon := aged(animal, stage)
		value := 0.2
		if x := edge(a.Above, a.Unit, sign.Unit); x != nil {
			value += *x
		}
		if x := edge(a.Below, a.Unit, sign.Unit); x != nil {
			value = *x - .2
		}
		finding := entered(sign, value)
		b := must(New(horse))
		for i := range 12 {
			e := quiet(0, finding)
			e.At, e.ID = noon.AddDate(0, 0, i-20), vitals.ID(strconv.Itoa(i))
			must(b.Learn(e))
		}
		e := tonight(0, finding)
		e.At = noon
		c, err := b.Compare(e)
		td.CmpNoError(t, err)
		found := false
		for _, f := range c.Alarms {
			found = found || f.Alarm == a.ID && f.Provenance == a.Provenance
		}
		td.CmpTrue(t, found, "%s at %v", a.ID, value)
		fired++
	}
	if fired < 20 {
		t.Errorf("only %d rules of one measured sign", fired)
	}
}

// A finding that is in order and gives no number is not checked, and says why; the rest is compared.
func TestOfNoUse(t *testing.T) {
	t.Parallel()
	infrared := degrees("36.1")
	infrared.Reading.Device = vitals.Infrared
	uneven := vitals.Finding{Sign: vitals.HeartRate, Taps: &vitals.Taps{AtMS: []int{0, 1000, 2450, 3000, 4700, 5000, 7300}}}
	donkey := aHorse()
	donkey.Type = vitals.TypeDonkey
	girth := vitals.Finding{Sign: vitals.Weight, Girth: &vitals.Girth{
		Girth: decimal.New(110, 0), Length: decimal.New(100, 0), Unit: vitals.Centimetre}}
	for name, f := range map[string]vitals.Finding{"infrared": infrared, "uneven taps": uneven, "donkey's girth": girth} {
		e := tonight(0, shown(vitals.GumColour, "", "pink"), f)
		td.Require(t).Cmp(vitals.CheckExam(e, donkey), td.Empty(), name)
		c, err := must(New(donkey)).Compare(e)
		td.CmpNoError(t, err, name)
		td.Cmp(t, c.Signs, td.Len(1), name)
		td.Cmp(t, c.Unchecked, td.Contains(Unchecked{Sign: f.Sign, Reason: vitals.Unsure}), name)
		said := false
		for _, w := range c.Warnings {
			said = said || strings.HasPrefix(w.Key, "fault.") && words.Has(words.English, w.Key)
		}
		td.CmpTrue(t, said, "%s: %v", name, c.Warnings)
	}
}

// A heart that climbs two beats a week through ten quiet exams: the limits follow it, the trend does not.
func TestTrendIsSaid(t *testing.T) {
	t.Parallel()
	var climbing, steady []vitals.Exam
	for i := range 10 {
		climbing = append(climbing, quiet(float64(7*i), heart(28+2*i)))
		steady = append(steady, quiet(float64(7*i), heart(34+(i*7)%3)))
	}
	c, err := learned(aHorse(), climbing...).Compare(tonight(70, heart(47)))
	td.CmpNoError(t, err)
	got := one(c, vitals.HeartRate)
	td.Cmp(t, got.Warnings, td.Contains(td.Struct(Warning{Key: WarnTrend}, td.StructFields{
		"Args": td.Slice([]string{}, td.ArrayEntries{0: "n", 1: "10", 2: "days", 3: "63", 4: "from", 5: "28", 6: "to", 7: "46"})})))
	c, _ = learned(aHorse(), steady...).Compare(tonight(70, heart(36)))
	td.CmpFalse(t, hasWarning(one(c, vitals.HeartRate).Warnings, WarnTrend))
}

// Mornings and evenings in turn are no trend.
func TestHourIsNoTrend(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 8 {
		e := quiet(float64(7*i), degrees("37.4"))
		if i >= 4 {
			e = quiet(float64(7*i)+.5, degrees("37.9"))
		}
		exams = append(exams, e)
	}
	c, err := learned(aHorse(), exams...).Compare(tonight(60, degrees("37.5")))
	td.CmpNoError(t, err)
	td.CmpFalse(t, hasWarning(one(c, vitals.RectalTemperature).Warnings, WarnTrend))
}
