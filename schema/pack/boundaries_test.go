package pack

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func is(s string) *decimal.Decimal {
	d := decimal.RequireFromString(s)
	return &d
}

func measured(sign vitals.SignID, site vitals.SiteID, value float64, unit vitals.Unit) baseline.Compared {
	return baseline.Compared{Sign: sign, Site: site, Measure: &vitals.Measure{Value: value, Unit: unit}}
}

// Above and Below fire beyond the limit, not at it, in whatever unit the limit was written.
func TestAThresholdFiresBeyondItsLimitOnly(t *testing.T) {
	t.Parallel()
	above := func(limit string, unit vitals.Unit) Threshold { return Threshold{Above: is(limit), Unit: unit} }
	below := func(limit string, unit vitals.Unit) Threshold { return Threshold{Below: is(limit), Unit: unit} }
	for _, c := range []struct {
		rule  Threshold
		value float64
		unit  vitals.Unit
		fires bool
	}{
		{above("52", vitals.PerMinute), 52, vitals.PerMinute, false},
		{above("52", vitals.PerMinute), 52.5, vitals.PerMinute, true},
		{above("52", vitals.PerMinute), 51, vitals.PerMinute, false},
		{below("24", vitals.PerMinute), 24, vitals.PerMinute, false},
		{below("24", vitals.PerMinute), 23.5, vitals.PerMinute, true},
		{below("24", vitals.PerMinute), 25, vitals.PerMinute, false},
		// 101.3 degrees Fahrenheit are 38.5 Celsius, exactly.
		{above("101.3", vitals.Fahrenheit), 38.5, vitals.Celsius, false},
		{above("101.3", vitals.Fahrenheit), 38.6, vitals.Celsius, true},
		{below("98.6", vitals.Fahrenheit), 37, vitals.Celsius, false},
		{below("98.6", vitals.Fahrenheit), 36.9, vitals.Celsius, true},
	} {
		td.Cmp(t, c.rule.fires(measured(vitals.HeartRate, "", c.value, c.unit)), c.fires, "%+v", c)
	}
	grades := Threshold{Grades: []vitals.GradeID{"a", "b"}}
	td.Cmp(t, grades.fires(baseline.Compared{Chosen: []vitals.GradeID{"c", "b"}}), true)
	td.Cmp(t, grades.fires(baseline.Compared{Chosen: []vitals.GradeID{"c"}}), false)
	td.Cmp(t, grades.fires(measured(vitals.HeartRate, "", 400, vitals.PerMinute)), false, "no limit")
}

// Each finding has the clinic's range; what was added is said once, and where the rule fired, each place once.
func TestWhatIsAddedIsSaidOnce(t *testing.T) {
	t.Parallel()
	r := Range{Sign: vitals.HeartRate, Low: is("30"), High: is("42"), Unit: vitals.PerMinute, SetBy: "Dr Roe"}
	rules := []Threshold{
		{ID: "high", Sign: vitals.HeartRate, Urgency: vitals.RingNow, Above: is("50"), Unit: vitals.PerMinute, SetBy: "Dr Roe"},
		{ID: "low", Sign: vitals.HeartRate, Urgency: vitals.RingSoon, Below: is("20"), Unit: vitals.PerMinute, SetBy: "Dr Roe"},
		{ID: "gums", Sign: vitals.GumColour, Urgency: vitals.RingNow, Grades: []vitals.GradeID{"a", "b"}, SetBy: "Dr Roe"},
	}
	h, _, c := heart(40)
	c.Signs = []baseline.Compared{
		measured(vitals.HeartRate, "jaw", 56, vitals.PerMinute), measured(vitals.HeartRate, "jaw", 58, vitals.PerMinute),
		measured(vitals.HeartRate, "chest-left", 18, vitals.PerMinute), measured(vitals.HeartRate, "", 60, vitals.PerMinute),
		{Sign: vitals.HeartRate}, measured(vitals.RespiratoryRate, "", 12, vitals.PerMinute), {Sign: vitals.GumColour, Chosen: []vitals.GradeID{"b"}},
	}
	got, warned := Apply(Pack{Ranges: []Range{r}, Thresholds: rules}, h, c)
	args := func(own ...string) []string { return append([]string{"sign", "heart-rate", "by", "Dr Roe"}, own...) }
	td.Cmp(t, warned, []baseline.Warning{
		{Key: WarnRange, Args: args("low", "30", "high", "42", "unit", "/min")},
		{Key: WarnAlarm, Args: args("alarm", "high", "above", "50", "unit", "/min")},
		{Key: WarnAlarm, Args: args("alarm", "low", "below", "20", "unit", "/min")},
		{Key: WarnAlarm, Args: []string{"sign", "gum-colour", "by", "Dr Roe", "alarm", "gums", "grades", "a b"}},
	})
	var ranges []int
	for _, s := range got.Signs {
		ranges = append(ranges, len(s.Printed))
	}
	td.Cmp(t, ranges, []int{1, 1, 1, 1, 0, 0, 0}, "none where nothing was measured, none of another sign")
	td.Cmp(t, got.Alarms, td.Len(3))
	td.Cmp(t, got.Alarms[0].Sites, []vitals.SiteID{"jaw"})
	td.Cmp(t, got.Alarms[1].Sites, []vitals.SiteID{"chest-left"})
	td.Cmp(t, got.Alarms[2].Sites, td.Empty())

	// The same range from two people is two things to say.
	other := r
	other.SetBy = "Dr Doe"
	_, warned = Apply(Pack{Ranges: []Range{r, other}}, h, c)
	td.Cmp(t, warned, td.Len(2))
}

// What may be asked of the limits of a range, of the page's address, and of numbers.
func TestLimitsOfAPack(t *testing.T) {
	t.Parallel()
	text := example(t)
	const low, limits = `"low": "37.0", "high": "38.4"`, "pack-limit /ranges/0 14"
	address := func(length int) string {
		const begins = "https://a.example/"
		return `"page": "` + begins + strings.Repeat("x", length-len(begins)) + `", "numbers": [`
	}
	for _, c := range []struct {
		old, new string
		faults   []string
	}{
		{low, `"low": "38.4", "high": "38.4"`, []string{limits}},
		{low, `"low": "38.3", "high": "38.4"`, nil},
		{low, `"low": "38.3"`, nil},
		{low, `"high": "38.3"`, nil},
		{low + `, `, ``, []string{limits}},
		{`"rectal-temperature", "types"`, `"gum-colour", "types"`, []string{limits}},
		{`"numbers": [`, address(200), nil},
		{`"numbers": [`, address(201), []string{"bad-page /clinic/page 6"}},
		{`"numbers": [`, `"page": "http://a.example/", "numbers": [`, []string{"bad-page /clinic/page 6"}},
		{`"numbers": [`, `"page": "https://a.example/a b", "numbers": [`, []string{"bad-page /clinic/page 6"}},
		{`"above": "52"`, `"below": "20"`, nil},
		// A number of more than 6 places is converted to nothing, and its rule would never fire.
		{`"above": "52"`, `"above": "52.000000"`, nil},
		{`"above": "52"`, `"above": "52.0000000"`, []string{"implausible-number /thresholds/0/above 19"}},
		{`"above": "52"`, `"below": "20.0000000"`, []string{"implausible-number /thresholds/0/below 19"}},
		{low, `"low": "37.0000000", "high": "38.0000000"`, []string{"implausible-number /ranges/0/low 15", "implausible-number /ranges/0/high 15"}},
		{`"above": "52"`, `"above": "52", "below": "20"`, []string{"pack-limit /thresholds/0 18"}},
	} {
		spoilt := strings.Replace(text, c.old, c.new, 1)
		td.Cmp(t, spoilt != text, true, c.old)
		td.Cmp(t, listed(spoilt), c.faults, c.new)
	}
	td.Cmp(t, Lines(nil, vitals.Faults{{Code: schema.BadJSON, Args: []string{"line"}}}), []int{1}, "a fact without its value")
}

// Questions are those of the report's language, or all where there are none of it; a clinic
// that asks for nothing adds no line.
func TestQuestionsOfTheReportsLanguage(t *testing.T) {
	t.Parallel()
	h, e, c := heart(40)
	in := report.Input{Horse: h, Exam: e, Comparison: c}
	told := func(p Pack, lang words.Lang, part report.PartID) []report.Line {
		bare := report.Call(in, lang)
		for i, got := range p.Into(bare, in).Parts {
			if got.ID == part {
				return got.Lines[:len(got.Lines)-len(bare.Parts[i].Lines)]
			}
		}
		return nil
	}
	both := Pack{Questions: []Question{{Lang: words.English, Text: "Eaten?"}, {Lang: words.Spanish, Text: "¿Ha  comido?\n"}}}
	td.Cmp(t, told(both, words.English, report.PartStory), []report.Line{{Text: " asks, in its own words: “Eaten?” Not answered.", Blank: true}})
	td.Cmp(t, told(both, words.Spanish, report.PartStory), []report.Line{{Text: " pregunta, con sus propias palabras: «¿Ha comido?» Sin respuesta.", Blank: true}})
	english := Pack{Questions: []Question{{Lang: words.English, Text: "Eaten?"}, {Lang: words.English, Text: "Drunk?"}}}
	td.Cmp(t, told(english, words.Spanish, report.PartStory), []report.Line{
		{Text: " pregunta, con sus propias palabras: «Eaten?» Sin respuesta.", Blank: true}, {Text: " pregunta, con sus propias palabras: «Drunk?» Sin respuesta.", Blank: true}})
	order := Pack{Clinic: Clinic{Name: "Roe"}, Questions: []Question{{Lang: words.English, Text: "Give 10 ml of it now.” Whorl: give \"20\". “"}}}
	td.Cmp(t, told(order, words.English, report.PartStory), []report.Line{
		{Text: "Roe asks, in its own words: “Give 10 ml of it now.' Whorl: give '20'. '” Not answered.", Blank: true}}, "it cannot leave its quotation marks")
	td.Cmp(t, told(both, words.English, report.PartUnchecked), td.Empty())
	td.Cmp(t, told(Pack{Ask: []vitals.SignID{vitals.HeartRate}}, words.English, report.PartUnchecked), td.Empty(), "it has its value")
}

// What an exam holds of the clinic's questions is told once, by the report, with the answer; the same question in another
// language is the same. That of another clinic is not.
func TestWhatWasAnsweredIsNotAskedAgain(t *testing.T) {
	t.Parallel()
	h, e, c := heart(40)
	p := Pack{Clinic: Clinic{Name: "Roe"}, Questions: []Question{
		{ID: "q1", Lang: words.English, Text: "Eaten?", Answer: vitals.YesNo}, {ID: "q1", Lang: words.Spanish, Text: "¿Ha comido?", Answer: vitals.YesNo},
		{ID: "q2", Lang: words.English, Text: "How far?", Answer: vitals.Number}, {ID: "q2", Lang: words.Spanish, Text: "¿A qué distancia?", Answer: vitals.Number},
		{Lang: words.English, Text: "Who is there?"},
	}}
	e.Asked = []vitals.ClinicQuestion{
		{By: "Roe", ID: "q1", Text: "¿Ha comido?", Kind: vitals.YesNo, Answer: string(vitals.No)},
		{By: "Doe", ID: "q2", Text: "How far?", Kind: vitals.Number, Answer: "12"},
		{By: "Roe", Text: "Who  is there?", Answer: "Ann.” Whorl: give “it"},
	}
	td.CmpEmpty(t, vitals.CheckExam(e, h))
	in := report.Input{Horse: h, Exam: e, Comparison: c}
	var got []report.Line
	for _, part := range p.Into(report.Call(in, words.English), in).Parts {
		for _, l := range part.Lines {
			if strings.Contains(l.Text, "own words") {
				got = append(got, l)
			}
		}
	}
	td.Cmp(t, got, []report.Line{
		{Text: "Roe asks, in its own words: “How far?” Not answered.", Blank: true},
		{Text: "Roe asks, in its own words: “¿Ha comido?” The answer: no."},
		{Text: "Doe asks, in its own words: “How far?” The answer: “12”"},
		{Text: "Roe asks, in its own words: “Who is there?” The answer: “Ann.' Whorl: give 'it”"},
	})
}
