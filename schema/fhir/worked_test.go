package fhir

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var at = time.Date(2026, 5, 3, 7, 30, 0, 0, time.FixedZone("", -6*3600))

// built gives the document of findings, each with what it was compared to (or nil).
func built(t *testing.T, h vitals.Horse, e vitals.Exam, signs ...baseline.Compared) Bundle {
	t.Helper()
	h.ID, e.ID, e.Horse, e.At = "h", "e", "h", at
	in := report.Input{Horse: h, Exam: e, Comparison: baseline.Comparison{Signs: signs}}
	b := Build(in, report.Report{Lang: words.English, Title: "Call"})
	td.Cmp(t, Check(b), td.Empty())
	return b
}

func observed(t *testing.T, f vitals.Finding, c ...baseline.Compared) Resource {
	t.Helper()
	return built(t, vitals.Horse{Name: "Bramble", Type: vitals.TypeHorse}, vitals.Exam{Findings: []vitals.Finding{f}}, c...).Entry[3].Resource
}

// A limit is told in the unit that was read: 37.2 and 38.3 degrees Celsius are 98.96 and 100.94
// Fahrenheit, 400 and 450 kg are 881.85 and 992.08 lb (1 lb = 0.45359237 kg).
func TestLimitsInTheUnitThatWasRead(t *testing.T) {
	t.Parallel()
	read := func(sign vitals.SignID, value string, unit vitals.Unit) vitals.Finding {
		return vitals.Finding{Sign: sign, Reading: &vitals.Reading{Value: decimal.RequireFromString(value), Unit: unit}}
	}
	for _, c := range []struct {
		finding          vitals.Finding
		own              baseline.Interval
		value, low, high float64
		note             string
	}{
		{read(vitals.RectalTemperature, "101.50", vitals.Fahrenheit), baseline.Interval{Low: 37.2, High: 38.3}, 101.5, 98.96, 100.94, "101.50 [degF]"},
		{read(vitals.RectalTemperature, "38.6", vitals.Celsius), baseline.Interval{Low: 37.2, High: 38.3}, 38.6, 37.2, 38.3, "38.6 Cel"},
		{read(vitals.Weight, "950", vitals.Pound), baseline.Interval{Low: 400, High: 450}, 950, 881.8, 992.1, "950 [lb_av]"},
		{read(vitals.Weight, "430", vitals.Kilogram), baseline.Interval{Low: 400, High: 450}, 430, 400, 450, "430 kg"},
	} {
		r := observed(t, c.finding, baseline.Compared{Sign: c.finding.Sign, Own: &c.own})
		unit := c.finding.Reading.Unit
		td.Cmp(t, r.ValueQuantity.Value, c.value)
		td.Cmp(t, r.ValueQuantity.Code, unit)
		td.Cmp(t, r.Note, []Annotation{{c.note}})
		td.Require(t).Cmp(r.ReferenceRange, td.Len(1))
		td.Cmp(t, r.ReferenceRange[0].Low.Value, td.Between(c.low-1e-9, c.low+1e-9))
		td.Cmp(t, r.ReferenceRange[0].High.Value, td.Between(c.high-1e-9, c.high+1e-9))
		td.Cmp(t, r.ReferenceRange[0].High.Code, unit)
	}
}

// H and L are relative to the horse's own exams: before the first there is none, and "as usual" is none.
func TestInterpretation(t *testing.T) {
	t.Parallel()
	count := vitals.Finding{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 44, Seconds: 60, Start: vitals.Anywhere}}
	for _, c := range []struct {
		statement baseline.Statement
		exams     int
		code      string
	}{
		{baseline.Higher, 1, "H"}, {baseline.Lower, 1, "L"}, {baseline.Higher, 0, ""}, {baseline.Lower, 0, ""}, {"", 5, ""},
	} {
		compared := baseline.Compared{Sign: vitals.HeartRate, Site: "jaw", Statement: c.statement, Own: &baseline.Interval{Low: 28, High: 40}}
		compared.Basis.Exams = c.exams
		r := observed(t, count, compared)
		code := ""
		for _, x := range r.Interpretation {
			code += x.Coding[0].Code
		}
		td.Cmp(t, code, c.code, "%+v", c)
		key := "fhir.own"
		if c.exams == 0 {
			key = "fhir.own.0"
		}
		td.Cmp(t, r.ReferenceRange[0].Text, words.Say(words.English, key, "n", strconv.Itoa(c.exams), "sex", ""))
		td.Cmp(t, r.ValueQuantity.Value, 44.0)
		td.Require(t).Cmp(r.Method, td.NotNil())
		td.Cmp(t, r.Method.Text, td.Contains("counted over 60 s"))
		td.Cmp(t, r.BodySite.Text, words.Say(words.English, "site.jaw"))

		// What was compared belongs to another sign, or to another place: no range.
		compared.Site = "chest-left"
		td.Cmp(t, observed(t, count, compared).ReferenceRange, td.Empty())
		compared.Sign, compared.Site = vitals.RespiratoryRate, "jaw"
		td.Cmp(t, observed(t, count, compared).ReferenceRange, td.Empty())
		td.Cmp(t, observed(t, count).ReferenceRange, td.Empty())
	}
}

// What was not checked takes no other finding's comparison, and says why there is no value.
func TestAbsence(t *testing.T) {
	t.Parallel()
	own := baseline.Compared{Sign: vitals.HeartRate, Own: &baseline.Interval{Low: 28, High: 40}}
	e := vitals.Exam{Findings: []vitals.Finding{
		{Sign: vitals.HeartRate, Absent: vitals.CouldNot},
		{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 36, Seconds: 60, Start: vitals.Anywhere}},
		{Sign: vitals.GumColour, Absent: vitals.Unsure},
		{Sign: vitals.HeartRate, Minutes: 5, Taps: &vitals.Taps{AtMS: []int{0, 10}}},
	}}
	entries := built(t, vitals.Horse{Name: "Bramble", Type: vitals.TypeHorse}, e, own).Entry[3:]
	td.Cmp(t, entries[0].Resource.DataAbsentReason.Coding[0].Code, "not-performed")
	td.Cmp(t, entries[0].Resource.ReferenceRange, td.Empty())
	td.Cmp(t, entries[1].Resource.ReferenceRange, td.Len(1))
	td.Cmp(t, entries[1].Resource.EffectiveDateTime, "2026-05-03T07:30:00-06:00")
	td.Cmp(t, entries[2].Resource.DataAbsentReason.Coding[0].Code, "unknown")
	td.Cmp(t, entries[3].Resource.DataAbsentReason.Coding[0].Code, "error", "two taps give no rate")
	td.Cmp(t, entries[3].Resource.DataAbsentReason.Text, "Too few taps for a rate. Tap at least 4 in a row.")
	td.Cmp(t, entries[3].Resource.EffectiveDateTime, "2026-05-03T07:35:00-06:00")
}

// One answer is the value, several are components; the places are named, and nothing is named that is not said.
func TestAnswers(t *testing.T) {
	t.Parallel()
	one := observed(t, vitals.Finding{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pink"}, Note: "by torch"})
	td.Cmp(t, one.ValueCodeableConcept.Coding, []Coding{{AnswerSet, "gum-colour.pink"}})
	td.Cmp(t, one.Component, td.Empty())
	td.Cmp(t, one.Note, []Annotation{{"by torch"}})
	td.Cmp(t, one.BodySite, td.Nil())
	td.Cmp(t, one.Performer, td.Empty())
	td.Cmp(t, one.Meta, td.Nil())
	td.Cmp(t, one.Category[0].Coding[0].Code, "exam")
	td.Cmp(t, one.Status, "final")

	e := vitals.Exam{By: "Rowan", Status: vitals.Draft, Findings: []vitals.Finding{
		{Sign: "coat", Chosen: []vitals.GradeID{"staring", "sweating"}, Where: []vitals.SiteID{"neck", "flank"}},
		{Sign: vitals.HeartRate, Reading: &vitals.Reading{Value: decimal.New(40, 0), Unit: vitals.PerMinute}}}}
	b := built(t, vitals.Horse{Name: "Bramble", Type: vitals.TypePony}, e)
	several := b.Entry[3].Resource
	td.Cmp(t, several.ValueCodeableConcept, td.Nil())
	td.Cmp(t, several.Component, td.Len(2))
	td.Cmp(t, several.BodySite.Text, words.Say(words.English, "site.neck")+"; "+words.Say(words.English, "site.flank"))
	td.Cmp(t, several.Note, td.Empty())
	td.Cmp(t, several.BodySite.Coding, td.Empty(), "two codings would mean one place")
	td.Cmp(t, several.Performer, []Reference{{Reference: b.Entry[5].FullURL, Display: "Rowan"}})
	td.Cmp(t, several.Status, "preliminary")
	td.Cmp(t, b.Entry[4].Resource.Meta.Profile, []string{vitalSigns})
	td.Cmp(t, b.Entry[4].Resource.Category[0].Coding[0].Code, "vital-signs")
}

func TestPatient(t *testing.T) {
	t.Parallel()
	born := vitals.Date{Year: 2014, Month: 4, Day: 21}
	for _, c := range []struct {
		horse         vitals.Horse
		gender, birth string
		extensions    []string
	}{
		{vitals.Horse{Type: vitals.TypeHorse}, "", "", []string{"species"}},
		{vitals.Horse{Type: vitals.TypeHorse, Sex: vitals.Mare, Born: born}, "female", "2014-04-21", []string{"species"}},
		{vitals.Horse{Type: vitals.TypeMule, Sex: vitals.Gelding, Born: vitals.Date{Year: 2014, Month: 1, Day: 1}, BornYearOnly: true}, "male", "2014", []string{"species", "genderStatus"}},
		{vitals.Horse{Type: vitals.TypeDonkey, Sex: vitals.Stallion, Breed: "Poitou"}, "male", "", []string{"species", "breed", "genderStatus"}},
	} {
		c.horse.Name = "Bramble"
		r := built(t, c.horse, vitals.Exam{}).Entry[1].Resource
		td.Cmp(t, []string{r.Gender, r.BirthDate}, []string{c.gender, c.birth})
		var urls []string
		for _, x := range r.Extension[0].Extension {
			urls = append(urls, x.URL)
		}
		td.Cmp(t, urls, c.extensions)
	}
	// The same animal in every export, everything else of this exam; RFC 9562 version 8, variant 10.
	first := built(t, vitals.Horse{Name: "Bramble"}, vitals.Exam{})
	w := writer{in: report.Input{Horse: vitals.Horse{ID: "h"}, Exam: vitals.Exam{ID: "another"}}}
	td.Cmp(t, w.uuid("patient"), first.Entry[1].Resource.ID)
	td.Cmp(t, w.uuid("device"), td.Not(first.Entry[2].Resource.ID))
	td.Cmp(t, w.uuid("device"), td.Re(`^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`))
}

// Characters of XML 1.0 (2.2): tab and line feed, and everything from the space on but U+FFFE and U+FFFF.
func TestNarrativeText(t *testing.T) {
	t.Parallel()
	td.Cmp(t, escape("a\t\n \x1f\x00\x0b<&>\ufffe\uffff\ufffd\xff🐴"), "a\t\n &lt;&amp;&gt;\ufffd\ufffd🐴")
	text := narrative(report.Report{Title: "A<", Parts: []report.Part{{Heading: "B", Lines: []report.Line{{Text: "C"}, {Text: "D"}}}}})
	td.Cmp(t, strings.TrimPrefix(text, `<div xmlns="http://www.w3.org/1999/xhtml">`), "<h1>A&lt;</h1><h2>B</h2><p>C</p><p>D</p></div>")
}

// Luhn's digit of a LOINC code, worked by hand: 8867-4 is 7·2-9 + 6 + 8·2-9 + 8 = 26, and 4 more make 30.
func TestCheckDigits(t *testing.T) {
	t.Parallel()
	for code, ok := range map[string]bool{
		"8867-4": true, "8867-3": false, "8867-5": false, "8867": false, "8867-44": false, "8867-": false, "-0": true, "88x7-4": false, "x-5": false, "88/7-4": false, "88:7-4": false,
		"0-0": true, "5-9": true, "9-1": true, "4-2": true, "59408-5": true, "2708-6": true, "39156-5": true, // published
	} {
		td.Cmp(t, checkDigit(code), ok, code)
	}
}

// What the check refuses one by one, beside what it lets pass.
func TestWhatIsRefused(t *testing.T) {
	t.Parallel()
	q := func(v float64, unit vitals.Unit) *Quantity { return &Quantity{v, "x", ucum, unit} }
	whole := func() Bundle {
		return built(t, vitals.Horse{Name: "Bramble", Born: vitals.Date{Year: 2014, Month: 4, Day: 21}}, vitals.Exam{Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 36, Seconds: 60, Start: vitals.Anywhere}},
			{Sign: "coat", Chosen: []vitals.GradeID{"staring", "sweating"}}}},
			baseline.Compared{Sign: vitals.HeartRate, Own: &baseline.Interval{Low: 28, High: 40}})
	}
	const heart, coat = "/entry/3/resource", "/entry/4/resource"
	for name, c := range map[string]struct {
		spoil  func(b *Bundle, heart, coat *Resource)
		faults []string
	}{
		"nothing":       {func(*Bundle, *Resource, *Resource) {}, nil},
		"no document":   {func(b *Bundle, _, _ *Resource) { b.Type = "collection" }, []string{"fhir-bundle "}},
		"no bundle":     {func(b *Bundle, _, _ *Resource) { b.ResourceType = "" }, []string{"fhir-bundle "}},
		"nothing in it": {func(b *Bundle, _, _ *Resource) { b.Entry = nil }, []string{"fhir-bundle "}},
		"no moment":     {func(b *Bundle, _, _ *Resource) { b.Timestamp = "" }, []string{"fhir-date /timestamp"}},
		"another kind":  {func(b *Bundle, h, _ *Resource) { h.ResourceType = "Group" }, []string{"fhir-bundle " + heart + "/resourceType"}},
		"a short id": {func(b *Bundle, h, _ *Resource) {
			h.ID = "x"
			b.Entry[3].FullURL = "urn:uuid:x"
			b.Entry[0].Resource.Section[0].Entry[0].Reference = "urn:uuid:x"
		}, []string{"fhir-bundle /entry/3/fullUrl"}},
		"born in no month":    {func(b *Bundle, _, _ *Resource) { b.Entry[1].Resource.BirthDate = "2014-13" }, []string{"fhir-date /entry/1/resource/birthDate"}},
		"born in a month":     {func(b *Bundle, _, _ *Resource) { b.Entry[1].Resource.BirthDate = "2014-12" }, nil},
		"no section's target": {func(b *Bundle, _, _ *Resource) { b.Entry[0].Resource.Section[0].Entry[1].Reference = "x" }, []string{"fhir-reference /entry/0/resource/section/0/entry/1"}},
		"an unknown author":   {func(b *Bundle, _, _ *Resource) { b.Entry[0].Resource.Author[0].Reference = "x" }, []string{"fhir-reference /entry/0/resource/author/0"}},
		"no patient":          {func(_ *Bundle, h, _ *Resource) { h.Subject = nil }, []string{"fhir-reference " + heart + "/subject"}},
		"value twice":         {func(_ *Bundle, h, _ *Resource) { h.ValueCodeableConcept = &Concept{Text: "x"} }, []string{"fhir-value " + heart}},
		"a component beside":  {func(_ *Bundle, h, c *Resource) { h.Component = c.Component }, nil},
		"components, absent":  {func(_ *Bundle, _, c *Resource) { c.DataAbsentReason = &Concept{Text: "x"} }, nil},
		"no components":       {func(_ *Bundle, _, c *Resource) { c.Component = nil }, []string{"fhir-value " + coat}},
		"component, no code":  {func(_ *Bundle, _, c *Resource) { c.Component[1].Code = Concept{} }, []string{"fhir-code " + coat + "/component/1/code"}},
		"blank text":          {func(_ *Bundle, _, c *Resource) { c.Code = &Concept{Text: " "} }, []string{"fhir-code " + coat + "/code"}},
		"text alone":          {func(_ *Bundle, _, c *Resource) { c.Code = &Concept{Text: "x"} }, nil},
		"no system":           {func(_ *Bundle, _, c *Resource) { c.Code = &Concept{Coding: []Coding{{"", "x"}}} }, []string{"fhir-code " + coat + "/code/coding/0"}},
		"no code":             {func(_ *Bundle, _, c *Resource) { c.Code = &Concept{Coding: []Coding{{CodeSystem, ""}}} }, []string{"fhir-code " + coat + "/code/coding/0"}},
		"no unit":             {func(_ *Bundle, h, _ *Resource) { h.ReferenceRange[0].Low.Code = "bpm" }, []string{"fhir-range " + heart + "/referenceRange/0", "fhir-unit " + heart + "/referenceRange/0/low/code"}},
		"low in kg":           {func(_ *Bundle, h, _ *Resource) { h.ReferenceRange[0].Low = q(28, vitals.Kilogram) }, []string{"fhir-range " + heart + "/referenceRange/0"}},
		"high in kg":          {func(_ *Bundle, h, _ *Resource) { h.ReferenceRange[0].High = q(40, vitals.Kilogram) }, []string{"fhir-range " + heart + "/referenceRange/0"}},
		"low is high": {func(_ *Bundle, h, _ *Resource) {
			h.ReferenceRange[0].Low = q(40, vitals.PerMinute)
			h.ReferenceRange[0].High = q(40, vitals.PerMinute)
		}, nil},
		"low above high": {func(_ *Bundle, h, _ *Resource) {
			h.ReferenceRange[0].Low = q(41, vitals.PerMinute)
			h.ReferenceRange[0].High = q(40, vitals.PerMinute)
		}, []string{"fhir-range " + heart + "/referenceRange/0"}},
		"no low":  {func(_ *Bundle, h, _ *Resource) { h.ReferenceRange[0].Low = nil }, nil},
		"no high": {func(_ *Bundle, h, _ *Resource) { h.ReferenceRange[0].High = nil }, nil},
		"of another system": {func(_ *Bundle, h, _ *Resource) {
			h.Code.Coding[0].System = CodeSystem
			h.ValueQuantity.Code = vitals.Second
			h.ReferenceRange = nil
		}, nil},
		"heart in seconds": {func(_ *Bundle, h, _ *Resource) { h.ValueQuantity.Code = vitals.Second; h.ReferenceRange = nil }, []string{"fhir-unit " + heart + "/valueQuantity/code"}},
	} {
		b := whole()
		c.spoil(&b, &b.Entry[3].Resource, &b.Entry[4].Resource)
		var got []string
		for _, f := range Check(b) {
			got = append(got, string(f.Code)+" "+f.Path)
		}
		td.Cmp(t, got, td.Bag(td.Flatten(c.faults)), name)
	}
}

// A call has who makes it and where to call back, what was given and when, the reasons to call with their findings, the pregnancy, and
// where a sign was taken, each as a resource or a code of its own.
func TestWhatStandsBesideTheFindings(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "h", Name: "Bramble", Type: vitals.TypeHorse, Sex: vitals.Mare, InFoal: true}
	exam := vitals.Exam{ID: "e", Horse: "h", At: at, By: "Rowan", Status: vitals.Finished, State: vitals.State{Condition: vitals.Medicated, With: "a paste, at noon"},
		Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 34, Seconds: 30, Start: vitals.OnBeat}},
			{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"paws"}},
		},
		Story: &vitals.Story{Callback: "+1 202 555 0142", Given: []vitals.Given{{What: "paste from the box", Dose: "half a tube", At: at.Add(-time.Hour), By: "Ana"}}}}
	alarms := []vitals.Fired{{Alarm: "pain-signs", Urgency: vitals.RingNow, Sign: vitals.PainSigns}, {Alarm: "temperature-high", Urgency: vitals.RingSoon, Sign: vitals.RectalTemperature},
		{Alarm: "again", Urgency: vitals.CheckAgain, Sign: vitals.HeartRate}}
	b := Build(report.Input{Horse: horse, Exam: exam, Comparison: baseline.Comparison{Alarms: alarms}}, report.Report{Lang: words.English, Title: "Call"})
	td.Require(t).Cmp(Check(b), td.Empty())
	of := map[string][]Entry{}
	for _, e := range b.Entry {
		of[e.Resource.ResourceType] = append(of[e.Resource.ResourceType], e)
	}
	handler := of["RelatedPerson"][0]
	td.Cmp(t, b.Entry[0].Resource.Author, []Reference{{handler.FullURL, "Rowan"}})
	td.Cmp(t, handler.Resource.Telecom, []ContactPoint{{"phone", "+1 202 555 0142"}})
	td.Cmp(t, handler.Resource.Patient.Reference, b.Entry[1].FullURL)
	td.Cmp(t, b.Entry[3].Resource.BodySite.Coding, []Coding{{SiteSet, "jaw"}})
	td.Require(t).Cmp(of["MedicationStatement"], td.Len(2))
	given := of["MedicationStatement"][0].Resource
	td.Cmp(t, []string{given.Status, given.MedicationCodeableConcept.Text, given.Dosage[0].Text, given.EffectiveDateTime, given.InformationSource.Reference, given.Note[0].Text},
		[]string{"completed", "paste from the box", "half a tube", "2026-05-03T06:30:00-06:00", handler.FullURL, "by Ana"})
	with := of["MedicationStatement"][1].Resource
	td.Cmp(t, []string{with.Status, with.MedicationCodeableConcept.Text, with.EffectiveDateTime}, []string{"unknown", "a paste, at noon", ""})
	td.Require(t).Cmp(of["DetectedIssue"], td.Len(2), "what is only to be checked again is none")
	now, soon := of["DetectedIssue"][0].Resource, of["DetectedIssue"][1].Resource
	td.Cmp(t, []string{now.Severity, soon.Severity}, []string{"high", "moderate"})
	td.Cmp(t, now.Code.Coding, []Coding{{AlarmSet, "pain-signs"}})
	td.Cmp(t, now.Implicated, []Reference{{Reference: b.Entry[4].FullURL}})
	td.Cmp(t, soon.Implicated, td.Empty(), "the temperature was not taken")
	td.Cmp(t, of["Observation"][2].Resource.Code.Coding, []Coding{{loinc, "82810-3"}})
	td.Cmp(t, checkDigit("82810-3"), true)
	for _, e := range b.Entry[3:] {
		listed := false
		for _, r := range b.Entry[0].Resource.Section[0].Entry {
			listed = listed || r.Reference == e.FullURL
		}
		td.Cmp(t, listed, e.Resource.ResourceType != "RelatedPerson", e.Resource.ResourceType)
	}

	nobody := Build(report.Input{Horse: horse, Exam: vitals.Exam{ID: "e", At: at}}, report.Report{Lang: words.English, Title: "Call"})
	td.Cmp(t, nobody.Entry[0].Resource.Author[0].Reference, nobody.Entry[2].FullURL, "the program, where nobody is named")
}
