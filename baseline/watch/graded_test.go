package watch

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The scale of Sutton et al. as table 1 of BMC Vet Res 2018;14 (doi 10.1186/s12917-018-1482-4) prints it, in the words of
// the catalogue. What it prints together is of one severity.
var eaaps = map[int][]vitals.GradeID{
	1: {"watches-flank"}, 3: {"kicks-belly", "paws", "stretches-out"}, 4: {"rolls"},
}

func showing(sign vitals.SignID, g ...vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: sign, Chosen: g}
}

// courseOfLooks watches looks of one sign twenty minutes apart, the last with other findings beside it.
func courseOfLooks(t *testing.T, horse vitals.Type, sign vitals.SignID, looks []vitals.GradeID, beside ...vitals.Finding) Watched {
	t.Helper()
	var run []vitals.Exam
	for i, g := range looks {
		e := recheck(20*i, showing(sign, g))
		if i == len(looks)-1 {
			e.Findings = append(e.Findings, beside...)
		}
		run = append(run, e)
	}
	return watchedSign(Last(must(baseline.New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: horse})), run), sign)
}

func TestPainIsInTheScalesOrder(t *testing.T) {
	t.Parallel()
	for a, as := range eaaps {
		for b, bs := range eaaps {
			for _, from := range as {
				for _, to := range bs {
					w := courseOfLooks(t, vitals.TypeHorse, vitals.PainSigns, []vitals.GradeID{from, to})
					switch {
					case b > a:
						td.Cmp(t, w.Course, vitals.Worse, "%s, then %s", from, to)
					case from == to:
						td.Cmp(t, w.Course, vitals.Same, "%s, then %s", from, to)
					default: // signs of pain are a reason to call now: never better
						td.Cmp(t, w.Course, vitals.Course(""), "%s, then %s", from, to)
						td.Cmp(t, w.Warnings, td.Len(map[bool]int{true: 1}[b < a]), "%s, then %s", from, to)
					}
				}
			}
		}
	}
}

// From looking at its flank to rolling was told as better, by the ranks of the comparison.
func TestWatchNeverSoothes(t *testing.T) {
	t.Parallel()
	looks := func(g ...vitals.GradeID) []vitals.GradeID { return g }
	for _, x := range []struct {
		name   string
		of     vitals.Type
		sign   vitals.SignID
		looks  []vitals.GradeID
		beside []vitals.Finding
		want   vitals.Course
		says   string
	}{
		{"rolls after looking at its flank", vitals.TypeHorse, vitals.Doing, looks("watching-flank", "rolling"), nil, vitals.Worse, "watch.course.worse"},
		{"paws after rolling", vitals.TypeHorse, vitals.Doing, looks("rolling", "pawing"), nil, "", "watch.course.alarm"},
		{"thrashing, then down and not rising", vitals.TypeHorse, vitals.Attitude, looks("down-thrashing", "down-not-rising"), nil, vitals.Worse, "watch.course.worse"},
		{"quiet after violent pain", vitals.TypeHorse, vitals.Doing, looks("rolling", "standing"), nil, "", "watch.course.eased"},
		{"quiet after violent pain, and still quiet", vitals.TypeHorse, vitals.Doing, looks("rolling", "standing", "eating"), nil, "", "watch.course.eased"},
		{"eased suddenly", vitals.TypeHorse, vitals.PainSigns, looks("rolls", "eased-suddenly", "none"), nil, "", "watch.course.eased"},
		{"less and less", vitals.TypeHorse, vitals.Doing, looks("rolling", "watching-flank", "eating"), nil, vitals.Better, "watch.course.better"},
		{"less pain, dark gums", vitals.TypeHorse, vitals.Doing, looks("pawing", "eating"), []vitals.Finding{showing(vitals.GumColour, "purple")}, "", "watch.course.alarm"},
		{"gums better, still in pain", vitals.TypeHorse, vitals.GumMoisture, looks("dry", "wet"), []vitals.Finding{showing(vitals.PainSigns, "paws")}, "", "watch.course.alarm"},
		{"lies down", vitals.TypeHorse, vitals.Doing, looks("pawing", "lying"), nil, "", "watch.sequence"},
		{"stands, then lies", vitals.TypeHorse, vitals.Doing, looks("standing", "lying"), nil, "", "watch.sequence"},
		{"eats, then stands", vitals.TypeHorse, vitals.Doing, looks("eating", "standing"), nil, vitals.Same, "watch.course.same"},
		{"white, then blue", vitals.TypeHorse, vitals.GumColour, looks("white", "blue"), nil, "", "watch.sequence"},
		{"dull, then anxious", vitals.TypeHorse, vitals.Attitude, looks("dull", "anxious"), nil, vitals.Worse, "watch.course.worse"},
		{"a donkey, anxious, then dull", vitals.TypeDonkey, vitals.Attitude, looks("anxious", "dull"), nil, vitals.Worse, "watch.course.worse"},
		{"quiet, then bright", vitals.TypeHorse, vitals.Attitude, looks("quiet", "bright"), nil, vitals.Better, "watch.course.better"},
	} {
		w := courseOfLooks(t, x.of, x.sign, x.looks, x.beside...)
		td.Cmp(t, w.Course, x.want, x.name)
		td.Cmp(t, w.Moved(), x.want != vitals.Same, x.name)
		for _, lang := range words.Langs() {
			td.Cmp(t, w.Say(lang)[0], words.Say(lang, x.says, "sign", words.Say(lang, "sign."+string(x.sign)), "values", w.sayAnswers(lang)), x.name)
		}
	}
	// An answer that is told of the days before is not watched.
	td.Cmp(t, courseOfLooks(t, vitals.TypeHorse, vitals.Lately, looks("none", "journey")).Answers, td.Empty())
	// The worst of several behaviours counts.
	run := []vitals.Exam{recheck(0, showing(vitals.PainSigns, "kicks-belly")), recheck(20, showing(vitals.PainSigns, "watches-flank", "rolls"))}
	w := watchedSign(Last(juniper(nil), run), vitals.PainSigns)
	td.Cmp(t, []any{w.Course, w.Answers[1].Severity}, []any{vitals.Worse, 4})
}
