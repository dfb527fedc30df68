package fhir

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// drawn gives a random exam after so many random well ones; ok is false where it cannot be compared.
func drawn(seed uint64, exams int) (in report.Input, ok bool) {
	s := draw.Source(rand.New(rand.NewPCG(seed, 1)).IntN)
	h := s.Horse()
	b := must(baseline.New(h))
	for range exams {
		e := s.Exam(h)
		e.Wellness, e.Status, e.State = vitals.Well, vitals.Finished, vitals.State{Condition: vitals.AtRest}
		must(b.Learn(e))
	}
	e := s.Exam(h)
	c, err := b.Compare(e)
	return report.Input{Horse: h, Exam: e, Comparison: c}, err == nil
}

func written(t *testing.T, in report.Input) Bundle {
	t.Helper()
	text, err := Write(in, report.Call(in, words.English))
	td.Require(t).CmpNoError(err)
	var b Bundle
	td.Require(t).CmpNoError(json.Unmarshal(text, &b))
	return b
}

// Any exam gives a document that the check lets pass, with one observation a finding, and
// the same bytes again.
func TestAnyExam(t *testing.T) {
	t.Parallel()
	n := 0
	for seed := range uint64(60) {
		in, ok := drawn(seed, int(seed%5))
		if !ok {
			continue
		}
		n++
		b := written(t, in)
		td.Cmp(t, len(b.Entry), 3+len(in.Exam.Findings)+besidesOf(in))
		td.Cmp(t, written(t, in), b)
		for i, f := range in.Exam.Findings {
			r := b.Entry[3+i].Resource
			td.Cmp(t, r.ResourceType, "Observation")
			if f.Absent != "" {
				td.Cmp(t, r.DataAbsentReason, td.NotNil())
				td.Cmp(t, r.ValueQuantity, td.Nil())
				td.Cmp(t, r.Interpretation, td.Empty(), "not checked is never normal")
			}
			for _, x := range r.Interpretation {
				td.Cmp(t, x.Coding[0].Code, td.Any("H", "L"))
				td.Cmp(t, r.ReferenceRange, td.Len(1), "an interpretation stands beside what it is relative to")
			}
		}
		div := b.Entry[0].Resource.Section[0].Text.Div
		d := xml.NewDecoder(strings.NewReader(div))
		for {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(seed, err)
			}
		}
	}
	td.Cmp(t, n > 50, true)
}

// besidesOf counts what stands in a document beside the findings: who examined, what was given, a pregnancy, and each reason to call.
func besidesOf(in report.Input) int {
	n := 0
	if in.Exam.By != "" || in.Exam.Story != nil && in.Exam.Story.Callback != "" {
		n++
	}
	if in.Exam.Story != nil {
		n += len(in.Exam.Story.Given)
	}
	if in.Exam.State.With != "" {
		n++
	}
	if in.Horse.InFoal {
		n++
	}
	for _, a := range in.Comparison.Alarms {
		if a.Urgency != vitals.CheckAgain {
			n++
		}
	}
	return n
}

func TestCodes(t *testing.T) {
	t.Parallel()
	// LOINC codes of the vital signs profiles and of the capillary refill; check digits as published.
	for _, code := range []string{"8867-4", "9279-1", "8310-5", "8332-9", "29463-7", "44971-0", "85353-1"} {
		td.Cmp(t, checkDigit(code), true, code)
	}
	td.Cmp(t, checkDigit("8332-3"), false)
	for id, code := range profiled {
		sign, _ := vitals.Lookup(id)
		td.Cmp(t, codes(sign)[0], Coding{loinc, code}, string(id))
		td.Cmp(t, codes(sign)[len(codes(sign))-1], Coding{CodeSystem, string(id)})
	}
}

// The twelve errors that validators are tried with, one at a time, are all found.
func TestSeededErrors(t *testing.T) {
	t.Parallel()
	var in report.Input
	for seed := uint64(0); ; seed++ {
		if seed > 1000 {
			t.Fatal("no document has a heart rate with a range")
		}
		var ok bool
		if in, ok = drawn(seed, 4); ok && find(Build(in, report.Call(in, words.English)), func(r Resource) bool {
			return r.ValueQuantity != nil && r.ReferenceRange != nil && r.Code.Coding[0].Code == "8867-4"
		}) > 0 {
			break
		}
	}
	made := func() (Bundle, int) {
		b := Build(in, report.Call(in, words.English))
		return b, find(b, func(r Resource) bool {
			return r.ValueQuantity != nil && r.ReferenceRange != nil && r.Code.Coding[0].Code == "8867-4"
		})
	}
	b, _ := made()
	td.Require(t).Cmp(Check(b), td.Empty())
	for name, c := range map[string]struct {
		code  vitals.FaultCode
		spoil func(b *Bundle, r *Resource)
	}{
		"no status":              {BadStatus, func(_ *Bundle, r *Resource) { r.Status = "" }},
		"a status that is none":  {BadStatus, func(_ *Bundle, r *Resource) { r.Status = "done" }},
		"no code":                {BadCode, func(_ *Bundle, r *Resource) { r.Code = nil }},
		"a LOINC code misspelt":  {BadCode, func(_ *Bundle, r *Resource) { r.Code = &Concept{Coding: []Coding{{loinc, "8867-5"}}} }},
		"bpm":                    {BadUnit, func(_ *Bundle, r *Resource) { r.ValueQuantity.Code = "bpm" }},
		"no system of the unit":  {BadUnit, func(_ *Bundle, r *Resource) { r.ValueQuantity.System = "" }},
		"a heart rate in kg":     {BadUnit, func(_ *Bundle, r *Resource) { r.ValueQuantity.Code = vitals.Kilogram; r.ReferenceRange = nil }},
		"value and absence both": {BadValue, func(_ *Bundle, r *Resource) { r.DataAbsentReason = &Concept{Text: "x"} }},
		"neither":                {BadValue, func(_ *Bundle, r *Resource) { r.ValueQuantity = nil }},
		"a day that is none":     {BadDate, func(_ *Bundle, r *Resource) { r.EffectiveDateTime = "2026-02-30T10:00:00Z" }},
		"an unknown patient":     {BadReference, func(_ *Bundle, r *Resource) { r.Subject = &Reference{Reference: "urn:uuid:x"} }},
		"range upside down": {BadRange, func(_ *Bundle, r *Resource) {
			r.ReferenceRange[0].Low.Value = r.ReferenceRange[0].High.Value + 1
		}},
		"an address twice": {BadBundle, func(b *Bundle, r *Resource) { b.Entry[1].FullURL = b.Entry[2].FullURL }},
		"no composition":   {BadBundle, func(b *Bundle, r *Resource) { b.Entry = b.Entry[1:] }},
		"no author":        {BadReference, func(b *Bundle, r *Resource) { b.Entry[0].Resource.Author = nil }},
	} {
		b, i := made()
		c.spoil(&b, &b.Entry[i].Resource)
		var found []vitals.FaultCode
		for _, f := range Check(b) {
			found = append(found, f.Code)
			td.Cmp(t, f.Sentence, td.Not("fault."+string(f.Code)))
		}
		td.Cmp(t, found, td.Contains(c.code), name)
	}
}

func find(b Bundle, is func(Resource) bool) int {
	for i, e := range b.Entry {
		if e.Resource.ResourceType == "Observation" && is(e.Resource) {
			return i
		}
	}
	return -1
}
