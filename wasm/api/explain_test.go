package api_test

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// Every finding of an exam, the exam as a whole, and how well the horse is known can be asked why.
func TestExplainOp(t *testing.T) {
	t.Parallel()
	v := value(t, "explain", `{"horse":`+horse+`,"exams":`+history(6)+`,"exam":`+exam+`}`)
	td.Cmp(t, v, td.JSON(`SuperMapOf({
		"explanation":SuperMapOf({"signs":NotEmpty(),"overall":SuperMapOf({"parts":NotEmpty(),"level":0.05})}),
		"said":SuperMapOf({"heart-rate/jaw":ArrayEach(NotEmpty())}),"exam":ArrayEach(NotEmpty()),"known":SuperMapOf({"heart-rate":Len(2)})})`))
	td.Cmp(t, string(v), td.Contains("The middle of the range comes"))
	v = value(t, "explain", `{"horse":`+horse+`,"exams":`+history(6)+`,"exam":`+exam+`,"lang":"es"}`)
	td.Cmp(t, string(v), td.Contains("El centro del rango viene"))
}
