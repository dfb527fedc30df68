package vitals

import (
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

func TestSteps(t *testing.T) {
	t.Parallel()
	list := func(steps []Step) []SignID {
		var ids []SignID
		for _, s := range steps {
			ids = append(ids, s.Sign)
		}
		return ids
	}
	at := func(steps []Step, id SignID) (out []Step) {
		for _, s := range steps {
			if s.Sign == id {
				out = append(out, s)
			}
		}
		return out
	}
	walk := Steps(WalkUp, "", false)
	// The signs of each depth are typed by hand once, in catalogue_test.go.
	td.Cmp(t, list(walk), signsByDepth()[WalkUp])
	td.Cmp(t, Steps(Full, Held, true), walk, "a closed exam keeps what is seen from afar")

	// Breathing is counted from afar and again at the flank; the heart once, where the exam's depth allows best.
	full := Steps(Full, Held, false)
	td.Cmp(t, at(full, RespiratoryRate), []Step{
		{RespiratoryRate, WalkUp, []SiteID{"afar"}}, {RespiratoryRate, HandsOn, []SiteID{"flank", "nostril"}}})
	td.Cmp(t, at(full, HeartRate), []Step{{HeartRate, Full, []SiteID{"chest-left"}}})
	td.Cmp(t, at(full, GutSounds), []Step{{GutSounds, Full, []SiteID{"gut-upper-left", "gut-lower-left", "gut-upper-right", "gut-lower-right"}}})
	hands := Steps(HandsOn, Held, false)
	td.Cmp(t, at(hands, HeartRate), []Step{{HeartRate, HandsOn, []SiteID{"jaw", "digital-artery"}}})
	td.Cmp(t, at(hands, GutSounds), []Step{{GutSounds, HandsOn, []SiteID{"flank-left", "flank-right"}}})
	td.Cmp(t, at(hands, RectalTemperature), td.Empty())
	td.Cmp(t, len(full), len(Catalogue())+1, "every sign once, breathing twice")
	td.CmpTrue(t, slices.IsSortedFunc(full, func(a, b Step) int { return a.Depth.rank() - b.Depth.rank() }))

	// Alone: no thermometer, no hind feet, no hands on the hindquarters.
	alone := Steps(Full, NotHeld, false)
	td.Cmp(t, at(alone, RectalTemperature), td.Empty())
	td.Cmp(t, at(alone, Muscle), td.Empty())
	td.Cmp(t, at(alone, DigitalPulse), []Step{{DigitalPulse, HandsOn, []SiteID{"fore-left", "fore-right"}}})
	td.Cmp(t, at(alone, HoofWarmth), []Step{{HoofWarmth, HandsOn, []SiteID{"fore-left", "fore-right"}}})
}

// What is only of a foal, of a mare that foals or of work is asked of nobody else.
func TestStepsForAHorse(t *testing.T) {
	t.Parallel()
	asked := func(h Horse, e Exam) (ids []SignID) {
		for _, s := range StepsFor(h, e) {
			ids = append(ids, s.Sign)
		}
		return ids
	}
	old := animal(TypeHorse, Senior)
	old.Sex = Gelding
	for _, id := range []SignID{FirstHours, Navel, Joints, Foaling, Afterbirth, Vulva, Udder, Cooling} {
		td.CmpFalse(t, slices.Contains(asked(old, examOf()), id), "a gelding of 24 is asked %s", id)
	}
	worked := examOf()
	worked.State = State{Condition: AfterWork, SinceMinutes: 5}
	td.CmpTrue(t, slices.Contains(asked(old, worked), Cooling))
	born := animal(TypeHorse, Newborn)
	for _, id := range []SignID{FirstHours, Navel, Joints} {
		td.CmpTrue(t, slices.Contains(asked(born, examOf()), id), "a newborn is not asked %s", id)
	}
	td.CmpFalse(t, slices.Contains(asked(animal(TypeHorse, Foal), examOf()), FirstHours))
	mare := animal(TypeHorse, Adult)
	mare.Sex = Mare
	td.CmpFalse(t, slices.Contains(asked(mare, examOf()), Udder))
	mare.FoaledAt = testMoment.AddDate(0, 0, -29)
	td.CmpTrue(t, slices.Contains(asked(mare, examOf()), Afterbirth))
	mare.FoaledAt = testMoment.AddDate(0, 0, -31)
	td.CmpFalse(t, slices.Contains(asked(mare, examOf()), Afterbirth))
	mare.InFoal = true
	td.CmpTrue(t, slices.Contains(asked(mare, examOf()), Foaling))
}

func TestClosed(t *testing.T) {
	t.Parallel()
	td.CmpFalse(t, Closed(examOf(choose(Attitude, "", "dull"))))
	td.CmpTrue(t, Closed(examOf(choose(Attitude, "", "down-not-rising"))))
	td.CmpTrue(t, Closed(examOf(choose(Attitude, "", "down-thrashing"))))
	td.CmpFalse(t, Closed(examOf(Finding{Sign: Attitude, Absent: NotTried}, Finding{Sign: "?", Chosen: []GradeID{"x"}})))
}
