package report

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// reasons is an invented explanation of a heart rate of 52 beside one usual of 30 to 40, without readings.
func reasons() baseline.WhyMeasured {
	return baseline.WhyMeasured{Unit: vitals.PerMinute, Value: 52, Before: baseline.Interval{Low: 28, Mid: 36, High: 44}, Own: baseline.Interval{Low: 30, Mid: 35, High: 40},
		Between: 4, Within: 3, Factor: 1.5, Spread: 2, Doubt: 1, Method: .5, Tail: .0004, PriorShare: 1}
}

// readings are n own readings, of 31 a minute on 1 April, 32 on the second and so on.
func readings(n int) (list []baseline.Weighed) {
	for i := range n {
		list = append(list, baseline.Weighed{Share: .1, Learned: baseline.Learned{Value: float64(31 + i), At: time.Date(2026, 4, 1+i, 7, 0, 0, 0, time.UTC)}})
	}
	return list
}

// why is what stands behind a measured sign, in the language; a change puts it into the case.
func why(lang words.Lang, is baseline.Statement, read *vitals.Reading, change func(*baseline.WhyMeasured)) []string {
	m := reasons()
	change(&m)
	return Why(baseline.Why{Statement: is, Measured: &m}, vitals.Finding{Reading: read}, vitals.Horse{Sex: vitals.Mare}, lang)
}

// The whole of what stands behind a reading, with every figure worked out by hand: three divided by one
// and a half and times it, 1.96 times each standard deviation, one place more for what is below two.
func TestWhyInFull(t *testing.T) {
	t.Parallel()
	td.Cmp(t, why(words.English, baseline.Higher, nil, func(*baseline.WhyMeasured) {}), []string{
		"Before her first exam we expect 95 of 100 animals like her, measured this way, to be in the range 28 to 44 a minute.",
		"The estimate behind that: animals differ from each other by about 4, and one animal varies by 2 to 5 from day to day. How much this one varies is not known yet.",
		"There is no quiet-day exam with this sign yet, so there is nothing else to go on.",
		"Three things make the range wide: she varies from day to day (±4), her own level is not known exactly (±2.0), and no way of measuring is exact (±1.0).",
		"So on quiet days, 95 of 100 readings taken this way should be in the range 30 to 40 a minute. This one is 52 a minute.",
		"That is outside the range. A reading this far out comes on fewer than 1 in 1000 quiet days. From 1 in 40 we say “higher than usual”.",
	})
	td.Cmp(t, why(words.Spanish, baseline.AsUsual, nil, func(m *baseline.WhyMeasured) { m.Value = 37 }), []string{
		"Antes de su primera revisión esperamos que 95 de 100 animales como ella, medidos así, estén en el rango 28 a 44 por minuto.",
		"La estimación detrás: unos animales difieren de otros en unos 4, y uno mismo varía de 2 a 5 de un día a otro. Todavía no se sabe cuánto varía este.",
		"Todavía no hay revisión en calma con este signo, así que no hay más en qué basarse.",
		"Tres cosas hacen ancho el rango: varía de un día a otro (±4), su nivel no se conoce exactamente (±2.0) y ningún modo de medir es exacto (±1.0).",
		"Por eso, en días tranquilos, 95 de 100 lecturas tomadas así deberían estar en el rango 30 a 40 por minuto. Esta es 37 por minuto.",
		"Eso está dentro del rango, así que cuenta como habitual.",
	})
	// What was read in Fahrenheit is told in it: 37 degrees are 98.6, 38 are 100.4, 38.5 are 101.3; a
	// difference of half a degree is 0.9. What was read in Celsius is not.
	celsius := func(m *baseline.WhyMeasured) {
		hour := -.5
		*m = baseline.WhyMeasured{Unit: vitals.Celsius, Value: 38.5, Before: baseline.Interval{Low: 37, Mid: 37.5, High: 38}, Own: baseline.Interval{Low: 37, Mid: 37.5, High: 38},
			Between: .5, Within: 1, Factor: 2, Spread: .5, Doubt: 1, Method: 2, Tail: .004, PriorShare: .5, Hour: &hour,
			Readings: []baseline.Weighed{{Share: .5, Learned: baseline.Learned{Value: 37, At: time.Date(2026, 4, 1, 7, 0, 0, 0, time.UTC)}}},
			Trend:    &baseline.WhyTrend{Readings: 5, Days: 20.6, From: 37, To: 38, P: .01, Stated: true}}
	}
	td.Cmp(t, why(words.English, baseline.Higher, &vitals.Reading{Unit: vitals.Fahrenheit}, celsius), []string{
		"Before her first exam we expect 95 of 100 animals like her, measured this way, to be in the range 98.6 to 100.4 °F.",
		"The estimate behind that: animals differ from each other by about 0.9, and one animal varies by 0.9 to 3.6 from day to day. How much this one varies is not known yet.",
		"Her own quiet-day readings: 98.6 on April 1.",
		"The middle of the range comes 50 % from these readings (50 % from the newest) and 50 % from the starting estimate.",
		"At this hour she is usually 0.9 below her average for the day.",
		"Three things make the range wide: she varies from day to day (±1.8), her own level is not known exactly (±3.5), and no way of measuring is exact (±7.1).",
		"So on quiet days, 95 of 100 readings taken this way should be in the range 98.6 to 100.4 °F. This one is 101.3 °F.",
		"That is outside the range. A reading this far out comes on fewer than 1 in 200 quiet days. From 1 in 40 we say “higher than usual”.",
		"We also look for a trend: her last 5 quiet-day readings went from 98.6 to 100.4 °F in 21 days. Chance makes a line like this less than once in 50, so we say so.",
	})
	in := why(words.English, baseline.Higher, &vitals.Reading{Unit: vitals.Celsius}, celsius)
	td.Cmp(t, in[0], td.HasSuffix("in the range 37.0 to 38.0 °C."))
	td.Cmp(t, in[4], "At this hour she is usually 0.5 below her average for the day.")
}

// What is told only from some size or number on.
func TestWhyAtTheLimits(t *testing.T) {
	t.Parallel()
	tell := func(change func(*baseline.WhyMeasured)) string {
		return strings.Join(why(words.English, baseline.AsUsual, nil, change), "\n")
	}
	// A spread below two of the last place is told with one place more.
	for between, said := range map[float64]string{1.9: "about 1.9,", 2: "about 2,", 2.6: "about 3,"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Between = between }), td.Contains(said))
	}
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Within, m.Factor = 2.4, 1.5 }), td.Contains("by 1.6 to 3.6 from day to day."), "both ends with the places of the lower")
	// The hour of the day is told from a twentieth on.
	for hour, said := range map[float64]string{.05: "usually 0.1 above her average", 3: "usually 3 above her average", -.05: "usually 0.1 below her average", -3: "usually 3 below her average"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Hour = &hour }), td.Contains(said))
	}
	for _, hour := range []float64{.049, 0, -.049} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Hour = &hour }), td.Not(td.Contains("At this hour")))
	}
	// Whether the level drifts is told from three readings of the present usual on.
	drifts := func(n, earlier int) string {
		return tell(func(m *baseline.WhyMeasured) { m.Readings, m.Earlier, m.Wanders = readings(n), earlier, .128 })
	}
	td.Cmp(t, drifts(3, 0), td.Contains("13 in 100 chance that her level drifts"))
	td.Cmp(t, drifts(5, 2), td.Contains("13 in 100 chance that her level drifts"))
	td.Cmp(t, drifts(2, 0), td.Not(td.Contains("her level drifts")))
	td.Cmp(t, drifts(4, 2), td.Not(td.Contains("her level drifts")))
	// Twelve readings are named one by one; of more, the latest twelve.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(12) }), td.Contains("Her own quiet-day readings: 31 on April 1, 32 on April 2,"))
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(13) }), td.Contains("Her latest 12 of 13 quiet-day readings: 32 on April 2, 33 on April 3,"))
	// The shares are in whole parts of a hundred, and none is below nought or above all.
	for _, x := range []struct {
		prior, newest float64
		said          string
	}{
		{.126, .334, "comes 87 % from these readings (33 % from the newest) and 13 % from"},
		{-.001, 1.001, "comes 100 % from these readings (100 % from the newest) and 0 % from"},
		{.6, -.02, "comes 40 % from these readings (0 % from the newest) and 60 % from"},
	} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) {
			m.Readings, m.PriorShare = readings(2), x.prior
			m.Readings[1].Share = x.newest
		}), td.Contains(x.said))
	}
	// A new usual is told with its day.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) {
		m.Readings, m.Since, m.Earlier = readings(4), time.Date(2026, 4, 3, 0, 0, 0, 0, time.UTC), 1
	}), td.Contains("From April 3, 2026 the level is learned again, because someone set a new usual. The 1 earlier reading only shows how much she varies."))
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(4) }), td.Not(td.Contains("learned again")))
	// Readings that may be of a bad day, from one in twenty on: the three that most likely are, that one first,
	// and never as certain.
	odd := func(shares ...float64) (said []string) {
		all := why(words.English, baseline.AsUsual, nil, func(m *baseline.WhyMeasured) {
			m.Readings = readings(len(shares))
			for i, p := range shares {
				m.Readings[i].Odd = p
			}
		})
		for _, line := range all {
			if before, _, ok := strings.Cut(line, " in 100 chance that it was a bad day"); ok {
				said = append(said, before)
			}
		}
		return said
	}
	td.Cmp(t, odd(.049, .05, 1, .126), []string{"33 a minute on April 3: a 99", "34 a minute on April 4: a 13", "32 a minute on April 2: a 5"})
	td.Cmp(t, odd(.1, .3, .3, .2), []string{"32 a minute on April 2: a 30", "33 a minute on April 3: a 30", "34 a minute on April 4: a 20"})
	td.Cmp(t, odd(.98, 0), []string{"31 a minute on April 1: a 98"})
	td.Cmp(t, odd(.049, 0), []string(nil))
	// A course that is not told comes by chance so many times in a hundred, and never nought.
	for p, said := range map[float64]string{.126: "13 times in 100", .004: "1 times in 100", .024: "2 times in 100"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Trend = &baseline.WhyTrend{Readings: 4, Days: 21.4, P: p} }),
			td.Contains("Her last 4 quiet-day readings over 21 days show none. Chance makes a line this straight "+said))
	}
	// What of it was not read in a source.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Prior = []vitals.Provenance{{Mark: vitals.Assumed}} }), td.Contains("our estimate; no published source was found"))
}

// Of a sign that is chosen from a list the exams are counted; of one that nothing is usual of, nothing is.
func TestWhyGraded(t *testing.T) {
	t.Parallel()
	tell := func(g *baseline.WhyGraded) []string {
		return Why(baseline.Why{Sign: vitals.GutSounds, Graded: g}, vitals.Finding{}, vitals.Horse{Sex: vitals.Gelding}, words.English)
	}
	td.Cmp(t, tell(&baseline.WhyGraded{Assumed: .0994, Worth: 4, P: .2}), []string{
		"Before the first exam we estimate that 9.9 of 100 well animals show this answer or a more unusual one. That counts as much as 4 exams.",
		"There is no quiet-day exam with this sign yet, so there is nothing else to go on.",
		"Together, we expect such an answer on 20 of 100 quiet days. Below 5 of 100 we say “not usual”.",
	})
	td.Cmp(t, tell(&baseline.WhyGraded{Exams: 6, Seen: 1, Usual: []vitals.GradeID{"usual"}, UsualSeen: 5, Assumed: .05, Worth: 4, P: .1})[1:3], []string{
		"His own quiet-day exams with an answer: 6. Of these, 1 showed this answer or a more unusual one.",
		"Usually “as usual” (5 of 6 quiet-day exams).",
	})
	td.Cmp(t, tell(&baseline.WhyGraded{Exams: 6, Seen: 1}), td.Len(3), "nothing is shown most often")
	td.Cmp(t, tell(nil), []string{"Recorded only. There is no usual range to compare with."})
}

// Of the exam as a whole: what weighs most and comes on fewer than one quiet day in five, one sign in any
// case and three at most.
func TestWhyExamAtTheLimits(t *testing.T) {
	t.Parallel()
	tell := func(p ...float64) string {
		x := baseline.Explanation{Overall: baseline.WhyExam{P: .0099, Strong: .0021}, Lessons: []baseline.Lesson{{Taught: true}, {}, {Taught: true}}}
		for i, id := range []vitals.SignID{vitals.HeartRate, vitals.RespiratoryRate, vitals.RectalTemperature, vitals.GutSounds}[:len(p)] {
			x.Overall.Parts = append(x.Overall.Parts, baseline.WhyPart{Sign: id, P: p[i]})
		}
		return strings.Join(WhyExam(x, vitals.Horse{}, words.English), "\n")
	}
	td.Cmp(t, tell(), "No sign was compared, so nothing is said of the exam as a whole.")
	one := tell(.5)
	td.Cmp(t, one, td.Contains("Put together: 1 sign. What weighs most, with how seldom a quiet day shows as much: heart rate (1 in 2)."))
	td.Cmp(t, one, td.Contains("comes on about 1 in 100 quiet days"))
	td.Cmp(t, one, td.Not(td.Contains("stands out among so many")), "of one sign there are not many")
	td.Cmp(t, one, td.HasSuffix("2 of 3 earlier exams taught what is usual: those that are finished, at rest and marked as well."))
	two := tell(.001, .2)
	td.Cmp(t, two, td.Contains("Put together: 2 signs."))
	td.Cmp(t, two, td.Contains("as much: heart rate (1 in 500)."), "one day in five is not seldom")
	td.Cmp(t, two, td.Contains("from about 1 in 480 on"), "1 in 476, in tens")
	td.Cmp(t, tell(.5, .19), td.Contains("as much: heart rate (1 in 2) and breathing rate (1 in 5)."))
	td.Cmp(t, tell(.01, .02, .03, .04), td.Contains("heart rate (1 in 50), breathing rate (1 in 40) and rectal temperature (1 in 30)."))
}

// How well a sign is known: widths below ten of the last place have one place more, and temperatures are
// told in the unit in which they are read.
func TestWhyKnownAtTheLimits(t *testing.T) {
	t.Parallel()
	tell := func(id vitals.SignID, read vitals.Unit) string {
		return strings.Join(WhyKnown(baseline.KnownSign{Sign: id, Exams: 3, Before: 20, Now: 10, Attainable: 9.5, Doubt: 1, AfterTwo: .5}, read, vitals.Horse{}, words.English), "\n")
	}
	td.Cmp(t, tell(vitals.HeartRate, vitals.Fahrenheit), "Heart rate, from 3 own exams: the usual range was 20 wide at first and is 10 wide now. It cannot get narrower than 9.5 a minute.\n"+
		"Its own level may still be 1.0 higher or lower. Two more quiet-day exams a week apart would bring that down to 0.5 a minute.")
	td.Cmp(t, tell(vitals.RectalTemperature, vitals.Celsius), "Rectal temperature, from 3 own exams: the usual range was 20.0 wide at first and is 10.0 wide now. It cannot get narrower than 9.5 °C.\n"+
		"Its own level may still be 1.0 higher or lower. Two more quiet-day exams a week apart would bring that down to 0.50 °C.")
	td.Cmp(t, tell(vitals.RectalTemperature, vitals.Fahrenheit), "Rectal temperature, from 3 own exams: the usual range was 36.0 wide at first and is 18.0 wide now. It cannot get narrower than 17.1 °F.\n"+
		"Its own level may still be 1.8 higher or lower. Two more quiet-day exams a week apart would bring that down to 0.90 °F.")
	td.Cmp(t, tell("no-such-sign", vitals.Celsius), "")
}
