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
	td.Cmp(t, why(words.English, baseline.Higher, nil, func(*baseline.WhyMeasured) {}), []string{
		"Before her first exam: 95 of 100 animals like her, measured in this way, lie within 28 to 44 a minute.",
		"Taken for that: animals differ from each other by about 4, and one animal differs from day to day by 2 to 5, give or take; nobody knows yet how much this one does.",
		"There is no quiet exam of her own with it yet, so that is all it rests on.",
		"The width of the limits has three parts: she varies from day to day by ±4, her own level is known to ±2.0, and the way of measuring is good to ±1.0.",
		"So 95 of 100 readings on a quiet day, measured like this one, should lie within 30 to 40 a minute. This one is 52 a minute.",
		"That is outside: so far out on that side comes on fewer than 1 in 1000 quiet days. From 1 in 40 on it is called higher.",
	})
	td.Cmp(t, why(words.Spanish, baseline.AsUsual, nil, func(m *baseline.WhyMeasured) { m.Value = 37 }), []string{
		"Antes de su primera revisión: 95 de 100 animales como ella, medidos de este modo, quedan entre 28 a 44 por minuto.",
		"Para eso se toma: unos animales difieren de otros en unos 4, y uno mismo varía de un día a otro entre 2 y 5, más o menos; nadie sabe aún cuánto varía este.",
		"Todavía no hay ninguna revisión propia en calma con esto, así que solo se apoya en eso.",
		"La anchura de los límites tiene tres partes: varía de un día a otro en ±4, su propio nivel se conoce a ±2.0, y el modo de medir es exacto a ±1.0.",
		"Por eso 95 de 100 lecturas en un día de calma, medidas como esta, deberían quedar entre 30 a 40 por minuto. Esta es 37 por minuto.",
		"Eso queda dentro, así que se llama como siempre.",
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
		"Before her first exam: 95 of 100 animals like her, measured in this way, lie within 98.6 to 100.4 °F.",
		"Taken for that: animals differ from each other by about 0.9, and one animal differs from day to day by 0.9 to 3.6, give or take; nobody knows yet how much this one does.",
		"Her own quiet readings: 98.6 on 1 April.",
		"Of the middle of the limits, 50 parts in 100 come from these readings, 50 of them from the newest, and 50 from what was taken beforehand.",
		"At this hour she is usually 0.9 below the middle of the day.",
		"The width of the limits has three parts: she varies from day to day by ±1.8, her own level is known to ±3.5, and the way of measuring is good to ±7.1.",
		"So 95 of 100 readings on a quiet day, measured like this one, should lie within 98.6 to 100.4 °F. This one is 101.3 °F.",
		"That is outside: so far out on that side comes on fewer than 1 in 200 quiet days. From 1 in 40 on it is called higher.",
		"Watched beside it: her last 5 quiet readings went from 98.6 to 100.4 °F in 21 days. So straight a course comes by chance less than once in 50, so it is told.",
	})
	in := why(words.English, baseline.Higher, &vitals.Reading{Unit: vitals.Celsius}, celsius)
	td.Cmp(t, in[0], td.HasSuffix("lie within 37.0 to 38.0 °C."))
	td.Cmp(t, in[4], "At this hour she is usually 0.5 below the middle of the day.")
}

// What is told only from some size or number on.
func TestWhyAtTheLimits(t *testing.T) {
	tell := func(change func(*baseline.WhyMeasured)) string {
		return strings.Join(why(words.English, baseline.AsUsual, nil, change), "\n")
	}
	// A spread below two of the last place is told with one place more.
	for between, said := range map[float64]string{1.9: "about 1.9,", 2: "about 2,", 2.6: "about 3,"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Between = between }), td.Contains(said))
	}
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Within, m.Factor = 2.4, 1.5 }), td.Contains("by 1.6 to 3.6,"), "both ends with the places of the lower")
	// The hour of the day is told from a twentieth on.
	for hour, said := range map[float64]string{.05: "usually 0.1 above the middle", 3: "usually 3 above the middle", -.05: "usually 0.1 below the middle", -3: "usually 3 below the middle"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Hour = &hour }), td.Contains(said))
	}
	for _, hour := range []float64{.049, 0, -.049} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Hour = &hour }), td.Not(td.Contains("At this hour")))
	}
	// Whether the level drifts is told from three readings of the present usual on.
	drifts := func(n, earlier int) string {
		return tell(func(m *baseline.WhyMeasured) { m.Readings, m.Earlier, m.Wanders = readings(n), earlier, .128 })
	}
	td.Cmp(t, drifts(3, 0), td.Contains("13 in 100 that her level drifts"))
	td.Cmp(t, drifts(5, 2), td.Contains("13 in 100 that her level drifts"))
	td.Cmp(t, drifts(2, 0), td.Not(td.Contains("her level drifts")))
	td.Cmp(t, drifts(4, 2), td.Not(td.Contains("her level drifts")))
	// Twelve readings are named one by one; of more, the latest twelve.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(12) }), td.Contains("Her own quiet readings: 31 on 1 April, 32 on 2 April,"))
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(13) }), td.Contains("Her latest 12 of 13 quiet readings: 32 on 2 April, 33 on 3 April,"))
	// The shares are in whole parts of a hundred, and none is below nought or above all.
	for _, x := range []struct {
		prior, newest float64
		said          string
	}{
		{.126, .334, "87 parts in 100 come from these readings, 33 of them from the newest, and 13 from"},
		{-.001, 1.001, "100 parts in 100 come from these readings, 100 of them from the newest, and 0 from"},
		{.6, -.02, "40 parts in 100 come from these readings, 0 of them from the newest, and 60 from"},
	} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) {
			m.Readings, m.PriorShare = readings(2), x.prior
			m.Readings[1].Share = x.newest
		}), td.Contains(x.said))
	}
	// A new usual is told with its day.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) {
		m.Readings, m.Since, m.Earlier = readings(4), time.Date(2026, 4, 3, 0, 0, 0, 0, time.UTC), 1
	}), td.Contains("From 3 April 2026 on the level is learned anew, as somebody said that it is a new usual. The 1 reading before say"))
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Readings = readings(4) }), td.Not(td.Contains("learned anew")))
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
			if before, _, ok := strings.Cut(line, " in 100 that it was a bad day"); ok {
				said = append(said, before)
			}
		}
		return said
	}
	td.Cmp(t, odd(.049, .05, 1, .126), []string{"33 a minute on 3 April: 99", "34 a minute on 4 April: 13", "32 a minute on 2 April: 5"})
	td.Cmp(t, odd(.1, .3, .3, .2), []string{"32 a minute on 2 April: 30", "33 a minute on 3 April: 30", "34 a minute on 4 April: 20"})
	td.Cmp(t, odd(.98, 0), []string{"31 a minute on 1 April: 98"})
	td.Cmp(t, odd(.049, 0), []string(nil))
	// A course that is not told comes by chance so many times in a hundred, and never nought.
	for p, said := range map[float64]string{.126: "by chance 13 times", .004: "by chance 1 times", .024: "by chance 2 times"} {
		td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Trend = &baseline.WhyTrend{Readings: 4, Days: 21.4, P: p} }),
			td.Contains("her last 4 quiet readings over 21 days show no direction that is told. So straight a course comes "+said))
	}
	// What of it was not read in a source.
	td.Cmp(t, tell(func(m *baseline.WhyMeasured) { m.Prior = []vitals.Provenance{{Mark: vitals.Assumed}} }), td.Contains("is assumed, for want of a source"))
}

// Of a sign that is chosen from a list the exams are counted; of one that nothing is usual of, nothing is.
func TestWhyGraded(t *testing.T) {
	tell := func(g *baseline.WhyGraded) []string {
		return Why(baseline.Why{Sign: vitals.GutSounds, Graded: g}, vitals.Finding{}, vitals.Horse{Sex: vitals.Gelding}, words.English)
	}
	td.Cmp(t, tell(&baseline.WhyGraded{Assumed: .0994, Worth: 4, P: .2}), []string{
		"Before the first exam, 9.9 of 100 well animals are taken to show this answer or one farther from usual. That counts like 4 exams.",
		"There is no quiet exam of his own with it yet, so that is all it rests on.",
		"Put together, such an answer is expected on 20 of 100 quiet days. Below 5 of 100 it is called different from usual.",
	})
	td.Cmp(t, tell(&baseline.WhyGraded{Exams: 6, Seen: 1, Usual: []vitals.GradeID{"usual"}, UsualSeen: 5, Assumed: .05, Worth: 4, P: .1})[1:3], []string{
		"His own quiet exams with an answer: 6. Of them, 1 showed this answer or one farther from usual.",
		"In 5 of 6 quiet exams: “as usual”.",
	})
	td.Cmp(t, tell(&baseline.WhyGraded{Exams: 6, Seen: 1}), td.Len(3), "nothing is shown most often")
	td.Cmp(t, tell(nil), []string{"Recorded, not compared: nothing says what is usual."})
}

// Of the exam as a whole: what weighs most and comes on fewer than one quiet day in five, one sign in any
// case and three at most.
func TestWhyExamAtTheLimits(t *testing.T) {
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
	td.Cmp(t, one, td.HasSuffix("2 of 3 earlier exams taught what is usual: those finished, at rest and labelled as well."))
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
	tell := func(id vitals.SignID, read vitals.Unit) string {
		return strings.Join(WhyKnown(baseline.KnownSign{Sign: id, Exams: 3, Before: 20, Now: 10, Attainable: 9.5, Doubt: 1, AfterTwo: .5}, read, vitals.Horse{}, words.English), "\n")
	}
	td.Cmp(t, tell(vitals.HeartRate, vitals.Fahrenheit), "Heart rate, from 3 own exams: before the first the limits were 20 apart, now 10. If its level were known exactly they would be 9.5 a minute apart.\n"+
		"Its own level may still lie 1.0 higher or lower than it is taken to be. Two more quiet exams, a week apart, would leave 0.5 a minute.")
	td.Cmp(t, tell(vitals.RectalTemperature, vitals.Celsius), "Rectal temperature, from 3 own exams: before the first the limits were 20.0 apart, now 10.0. If its level were known exactly they would be 9.5 °C apart.\n"+
		"Its own level may still lie 1.0 higher or lower than it is taken to be. Two more quiet exams, a week apart, would leave 0.50 °C.")
	td.Cmp(t, tell(vitals.RectalTemperature, vitals.Fahrenheit), "Rectal temperature, from 3 own exams: before the first the limits were 36.0 apart, now 18.0. If its level were known exactly they would be 17.1 °F apart.\n"+
		"Its own level may still lie 1.8 higher or lower than it is taken to be. Two more quiet exams, a week apart, would leave 0.90 °F.")
	td.Cmp(t, tell("no-such-sign", vitals.Celsius), "")
}
