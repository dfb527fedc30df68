package baseline

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// A series begins with the exam that its rechecks name, whatever that one was for, and
// ends before a pause of more than 12 hours.
func TestWatchFrom(t *testing.T) {
	b := juniper(quietHeart(8, 34, 37, 35, 36))
	exams := hearts(10, 44, 49, 52, 57)
	exams[0].Purpose = vitals.Routine
	for i := range exams[1:] {
		exams[i+1].RecheckOf = exams[0].ID
	}
	late := recheck(24*60, beats(40))
	exams = append(exams, late)
	w := watchedSign(b.WatchFrom(exams[0].ID, exams), vitals.HeartRate)
	td.Cmp(t, w.Points, td.Len(4))
	td.Cmp(t, w.Say(words.English)[0], "Heart rate: rising by about 4 a minute every 10 minutes (2 to 6). Based on 4 readings in 30 minutes.")
	td.Cmp(t, w.Own, td.Struct(&Interval{}, td.StructFields{"Low": td.Between(28., 34.), "Mid": td.Between(34., 37.), "High": td.Between(37., 44.)}))
	// Without a name the last series is the one after the pause.
	td.Cmp(t, watchedSign(b.Watch(exams), vitals.HeartRate).Points, td.Len(1))
	// The routine exam belongs to Watch too, because rechecks name it.
	td.Cmp(t, watchedSign(b.Watch(exams[:4]), vitals.HeartRate).Points, td.Len(4))
	// From a later one, and from one that nobody has.
	td.Cmp(t, watchedSign(b.WatchFrom(exams[2].ID, exams), vitals.HeartRate).Points, td.Len(2))
	td.Cmp(t, b.WatchFrom("nobody", exams), td.Empty())
	work := exams[0]
	work.State.Condition = vitals.AfterWork
	td.Cmp(t, b.WatchFrom(work.ID, []vitals.Exam{work}), td.Empty())
	td.Cmp(t, exams[0].Purpose, vitals.Routine, "the caller's exam is as it was")
}

func watchedSign(ws []Watched, sign vitals.SignID) Watched {
	for _, w := range ws {
		if w.Sign == sign {
			return w
		}
	}
	return Watched{}
}

// A temperature read in Fahrenheit is told so: 9/5 of every difference, the zero at 32.
func TestWatchedInFahrenheit(t *testing.T) {
	b := juniper(nil)
	var exams []vitals.Exam
	for i, r := range []string{"38.0", "38.6", "39.2", "39.8", "40.2", "40.6"} {
		exams = append(exams, recheck(30*i, warm(r)))
	}
	c := watchedSign(b.Watch(exams), vitals.RectalTemperature)
	f := c.In(vitals.Fahrenheit)
	td.Cmp(t, f.Points[0].Value, td.Between(100.39, 100.41))
	td.Cmp(t, f.Points[5].Measure, td.Struct(vitals.Measure{Unit: vitals.Fahrenheit}, td.StructFields{"Value": td.Between(105.07, 105.09), "SD": td.Between(1.79*c.Points[5].SD, 1.81*c.Points[5].SD)}))
	nearTo(t, f.Slope.PerHour, 1.8*c.Slope.PerHour, 1e-9)
	nearTo(t, f.Robust.PerHour, 1.8*c.Robust.PerHour, 1e-9)
	nearTo(t, f.Own.High-f.Own.Low, 1.8*(c.Own.High-c.Own.Low), 1e-9)
	td.Cmp(t, f.Say(words.English)[0], td.Contains("°F every hour"))
	td.Cmp(t, c.Unit, vitals.Celsius, "the first is as it was")
	td.Cmp(t, c.Points[0].Value, td.Between(37.99, 38.01))
	heart := watchHeart(t, b, hearts(10, 40, 41, 42))
	td.Cmp(t, heart.In(vitals.Fahrenheit), heart)
}

func TestTelling(t *testing.T) {
	c := Comparison{
		Alarms: []vitals.Fired{{Alarm: "x", Sign: vitals.GutSounds}, {Alarm: "y", Sign: vitals.HeartRate}},
		Signs: []Compared{
			{Sign: vitals.RectalTemperature, Statement: AsUsual},
			{Sign: vitals.GutSounds, Site: "gut-upper-left", Statement: Differs}, {Sign: vitals.GutSounds, Site: "gut-upper-right", Statement: Differs},
			{Sign: vitals.CapillaryRefill, Statement: AsUsual, Settle: &Settle{}},
			{Sign: vitals.RespiratoryRate, Statement: Higher, Settle: &Settle{}},
			{Sign: vitals.Attitude, Statement: Noted},
		},
	}
	td.Cmp(t, c.Telling(), []Telling{
		{vitals.RespiratoryRate, TellingUnusual}, {vitals.CapillaryRefill, TellingSettle},
		{vitals.HeartRate, TellingAlarm}, {vitals.GutSounds, TellingAlarm},
	})
	td.Cmp(t, Comparison{}.Telling(), td.Empty())
}

func TestDue(t *testing.T) {
	at := planDay
	d := juniper(nil).Due(at)
	td.Cmp(t, d.Now, true)
	td.Cmp(t, d.At.IsZero() && d.LastAt.IsZero(), true)
	td.Cmp(t, d.Unknown, td.Contains(vitals.HeartRate))
	td.Cmp(t, d.Unknown, td.Contains(vitals.GumColour))
	td.Cmp(t, d.Unknown, td.Not(td.Contains(vitals.LungSounds)), "of the graded ones only those without equipment")

	four := juniper(quietHeart(4, 34, 37, 35)) // the last a week ago
	d = four.Due(at)
	td.Cmp(t, []any{d.Exams, d.Now, d.EveryDays, d.At}, []any{4, false, 17, at.AddDate(0, 0, 10)})
	td.Cmp(t, four.Due(at.AddDate(0, 0, 10)).Now, true)
	td.Cmp(t, four.Due(at.AddDate(0, 0, 10).Add(-time.Second)).Now, false)
	td.Cmp(t, d.Unknown, td.All(td.Not(td.Contains(vitals.HeartRate)), td.Contains(vitals.RectalTemperature)))
	// Once the plan is done, monthly.
	td.Cmp(t, juniper(quietHeart(practiceExams, 34, 37, 35)).Due(at).EveryDays, 30)
	// A foal's usual moves by the week.
	foal := New(vitals.Horse{ID: "foal", Type: vitals.TypeHorse, Born: vitals.DateOf(at.AddDate(0, -3, 0))})
	td.Cmp(t, foal.Due(at).EveryDays, 7)
	// An exam of a bad day teaches nothing, and so nothing is due later for it.
	sick := quietHeart(1, 60)
	sick[0].Wellness = vitals.Unwell
	td.Cmp(t, juniper(sick).Due(at).Exams, 0)
}

// The rhythm that the barn's list shows is the plan's.
func TestDueIsThePlans(t *testing.T) {
	for _, kind := range []vitals.Type{vitals.TypeHorse, vitals.TypeDonkey} {
		p := New(vitals.Horse{ID: "h", Type: kind}).PracticePlan(planDay, 0)
		td.Cmp(t, p.Exams, td.Between(practiceExams-1, practiceExams+1), string(kind))
		td.Cmp(t, p.EveryDays, td.Between(15.5, 17.5), string(kind))
	}
}
