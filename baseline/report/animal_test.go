package report

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Who it is in one phrase; how to come near is told always, insurance and referral where somebody is called or asked to come.
func TestSignalment(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
	in := Input{
		Horse: vitals.Horse{ID: "h", Name: "Sorrel", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2017, Month: 2, Day: 1}, Breed: "Quarter Horse",
			InFoal: true, Due: vitals.Date{Year: 2026, Month: 5, Day: 12}, Handling: "Kicks at needles", Insured: vitals.Yes, Referral: vitals.No},
		Exam: vitals.Exam{ID: "e", Horse: "h", At: at, Depth: vitals.WalkUp, Purpose: vitals.Routine, State: vitals.State{Condition: vitals.AtRest}},
	}
	td.CmpEmpty(t, vitals.CheckHorse(in.Horse))
	in.Comparison.Signs = []baseline.Compared{{Sign: vitals.Weight, Measure: &vitals.Measure{Value: 415, SD: 15, Unit: vitals.Kilogram}}}
	of := func(lang words.Lang) *caller { return &caller{telling: about(in.Horse, lang), in: in} }
	td.Cmp(t, of(words.English).signalment(true), td.All(td.HasPrefix("9-year-old Quarter Horse mare, in foal (due May 12), about "), td.Contains("415 kg")))
	td.Cmp(t, of(words.Spanish).signalment(true), td.Contains("fecha probable 12 de mayo"))
	texts := func(lines []Line) (out []string) {
		for _, l := range lines {
			out = append(out, l.Text)
		}
		return out
	}
	td.Cmp(t, texts(of(words.English).handling()), []string{"Handling: Kicks at needles."}, "nobody is called")
	in.Comparison.Alarms = []vitals.Fired{{Alarm: "dull", Urgency: vitals.RingNow}}
	td.Cmp(t, texts(of(words.English).handling()), []string{"Handling: Kicks at needles.", "Insured.", "Is not to be taken to a clinic."})
	in.Comparison.Alarms, in.Exam.Story = nil, &vitals.Story{Ask: vitals.AskCome}
	in.Horse.Insured = ""
	td.Cmp(t, texts(of(words.Spanish).handling()), []string{"Manejo: Kicks at needles.", "No se llevará a una clínica."}, "what is not known is not told")

	// A day long past was for another foal.
	in.Exam.At = at.AddDate(0, 6, 0)
	td.Cmp(t, of(words.English).signalment(true), td.Not(td.Contains("due")))
	wrong := in.Horse
	wrong.InFoal, wrong.Insured = false, "maybe"
	var codes []vitals.FaultCode
	for _, f := range vitals.CheckHorse(wrong) {
		codes = append(codes, f.Code)
	}
	td.Cmp(t, codes, []vitals.FaultCode{vitals.FaultNotInFoal, vitals.FaultUnknownAnswer})
}
