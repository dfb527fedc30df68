package schema_test

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// A corrected exam and one that was taken back keep their place wherever the version before comes from, in any order of
// merging, and what they were stays in the file.
func TestACorrectionMergesInAnyOrder(t *testing.T) {
	at := time.Date(2026, 5, 1, 7, 0, 0, 0, time.UTC)
	horse := vitals.Horse{ID: "h", Name: "Sedge", Type: vitals.TypeHorse}
	other := vitals.Horse{ID: "o", Name: "Rush", Type: vitals.TypeHorse}
	first := vitals.Exam{
		ID: "e", Horse: "h", At: at, Depth: vitals.HandsOn, Purpose: vitals.Learning, State: vitals.State{Condition: vitals.AtRest},
		Status: vitals.Finished, Wellness: vitals.Well, Findings: []vitals.Finding{{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pink"}}},
	}
	moved := first
	moved.Horse, moved.At, moved.Corrected = "o", at.Add(-time.Hour), &vitals.Correction{At: at.Add(time.Hour), By: "Wren"}
	withdrawn := moved
	withdrawn.Findings, withdrawn.Wellness, withdrawn.Status = nil, "", vitals.Withdrawn
	withdrawn.Corrected = &vitals.Correction{At: at.Add(2 * time.Hour)}
	file := func(shown vitals.Exam, before ...vitals.Exam) schema.File {
		f := schema.File{Horses: []vitals.Horse{horse, other}, Exams: []vitals.Exam{shown}}
		for _, b := range before {
			f.Conflicts = append(f.Conflicts, schema.Conflict{Exam: &b, Aside: true})
		}
		return f
	}
	files := []schema.File{file(first), file(moved, first), file(withdrawn, first, moved)}
	for _, order := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		got := merge(t, merge(t, files[order[0]], files[order[1]]), files[order[2]])
		td.Cmp(t, written(t, got), written(t, merge(t, files[2], files[2])), "%v", order)
		td.Cmp(t, got.Exams[0].Status, vitals.Withdrawn)
		td.Cmp(t, len(got.Conflicts), 2)
	}
	// Nothing of it is asked: a person has decided.
	_, fresh, err := schema.Merge(files[0], files[2])
	td.CmpNoError(t, err)
	td.Cmp(t, len(fresh), 0)
	// A moment that cannot be is a fault.
	moved.Corrected = &vitals.Correction{}
	td.Cmp(t, vitals.CheckExam(moved, other), td.Len(1))
	td.Cmp(t, vitals.CheckExam(moved, other)[0].Path, "/corrected/at")
}
