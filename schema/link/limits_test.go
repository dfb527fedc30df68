package link

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"rsc.io/qr/coding"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
)

// codeOf gives a code of rows in which 1 is dark.
func codeOf(rows []string) *coding.Code {
	c := &coding.Code{Size: len(rows), Stride: (len(rows) + 7) / 8}
	c.Bitmap = make([]byte, c.Size*c.Stride)
	for y, row := range rows {
		for x := range row {
			if row[x] == '1' {
				c.Bitmap[y*c.Stride+x/8] |= 1 << (7 - x&7)
			}
		}
	}
	return c
}

// byFeature works the four features of the penalty out from the rows and columns as text.
func byFeature(rows []string) (runs, blocks, finders, balance int) {
	lines := slices.Clone(rows)
	for x := range rows {
		var column []byte
		for y := range rows {
			column = append(column, rows[y][x])
		}
		lines = append(lines, string(column))
	}
	for _, line := range lines {
		for rest := line; rest != ""; {
			n := len(rest) - len(strings.TrimLeft(rest, rest[:1]))
			if n >= 5 {
				runs += 3 + n - 5
			}
			rest = rest[n:]
		}
		for i := range line {
			if strings.HasPrefix(line[i:], "00001011101") || strings.HasPrefix(line[i:], "10111010000") {
				finders += 40
			}
		}
	}
	for y := 1; y < len(rows); y++ {
		for x := 1; x < len(rows); x++ {
			if four := rows[y-1][x-1:x+1] + rows[y][x-1:x+1]; four == "0000" || four == "1111" {
				blocks += 3
			}
		}
	}
	percent := 100 * strings.Count(strings.Join(rows, ""), "1") / (len(rows) * len(rows))
	return runs, blocks, finders, max(percent-50, 50-percent) / 5 * 10
}

// The penalty by which a mask is chosen, feature by feature: worked by hand, and on drawn codes.
func TestPenalty(t *testing.T) {
	t.Parallel()
	all := func(row string) []string { return slices.Repeat([]string{row}, 21) }
	light, dark := all(strings.Repeat("0", 21)), all(strings.Repeat("1", 21))
	// 42 lines of one run of 21, 20 by 20 blocks, 50 % off: 42·(3+16) + 400·3 + 100.
	td.Cmp(t, penalty(codeOf(light)), 798+1200+100)
	td.Cmp(t, penalty(codeOf(dark)), 798+1200+100)
	var chess []string
	for y := range 21 {
		chess = append(chess, strings.Repeat("10", 11)[y%2:y%2+21])
	}
	td.Cmp(t, penalty(codeOf(chess)), 0, "221 of 441 are dark")

	r := rand.New(rand.NewPCG(8, 9))
	seen := [4]int{}
	for range 300 {
		share, size := r.Float64(), 21+4*r.IntN(3)
		var rows []string
		for range size {
			row := make([]byte, size)
			for x := range row {
				row[x] = '0'
				if r.Float64() < share {
					row[x] = '1'
				}
			}
			if r.IntN(2) == 0 {
				at := r.IntN(size - 10)
				copy(row[at:], []string{"00001011101", "10111010000"}[r.IntN(2)])
			}
			rows = append(rows, string(row))
		}
		a, b, c, d := byFeature(rows)
		td.Cmp(t, penalty(codeOf(rows)), a+b+c+d, "%v", rows)
		for i, x := range []int{a, b, c, d} {
			seen[i] += min(x, 1)
		}
	}
	td.Cmp(t, slices.Min(seen[:]) > 100, true, "each feature was there: %v", seen)
}

// The mask that is taken is the one of the lowest penalty of all eight.
func TestTheMaskOfTheLowestPenalty(t *testing.T) {
	t.Parallel()
	d, err := Draw(page, Code(example))
	td.Require(t).CmpNoError(err)
	least := 0
	for mask := range coding.Mask(8) {
		plan, err := coding.NewPlan(coding.Version(d.Version), coding.Level(strings.Index("LMQH", d.Level)), mask)
		td.Require(t).CmpNoError(err)
		code, err := plan.Encode(coding.String(page+"#"), coding.Alpha(Code(example)))
		td.Require(t).CmpNoError(err)
		if p := penalty(code); mask == 0 || p < least {
			least = p
		}
	}
	td.Cmp(t, penalty(d.code), least)
	td.Cmp(t, d.SVG(""), td.Not(td.Contains("h0v")), "no run of nothing")
}

// ISO/IEC 18004, table 7: a code 20-L holds 861 codewords, 6888 bits. 33 bytes take 4+16+8·33 of them and 1198
// dense characters 4+11+5.5·1198, which is all; one more of either fits nothing that is drawn.
func TestTheLargestCode(t *testing.T) {
	t.Parallel()
	address, fragment := strings.Repeat("a", 32), prefixCode+strings.Repeat("A", 1195)
	d, err := Draw(address, fragment)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, []any{d.Version, d.Level, d.Size}, []any{20, "L", 97})
	_, err = Draw(address+"a", fragment)
	td.Cmp(t, errors.Is(err, ErrTooLong), true)
	_, err = Draw(address, fragment+"A")
	td.Cmp(t, errors.Is(err, ErrTooLong), true)
}

func TestFragmentsAtTheLimits(t *testing.T) {
	t.Parallel()
	for fragment, want := range map[string]error{
		"w9=": ErrNewer, "W9:": ErrNewer, "w999=": ErrNewer, "w9999=": ErrForeign, "w=": ErrForeign, "w9": ErrForeign, "x9=": ErrForeign, "w9x=": ErrForeign,
	} {
		_, err := Open(fragment)
		td.Cmp(t, errors.Is(err, want), true, fragment)
	}
	whole := bytes.Repeat([]byte("0123456789abcdef"), MaxRecord/16)
	got, err := Open(Fragment(whole))
	td.CmpNoError(t, err)
	td.Cmp(t, bytes.Equal(got, whole), true)
	_, err = Open(Fragment(append(whole, 'x')))
	td.Cmp(t, errors.Is(err, ErrLarge), true)
}

// Three figures of a probability, cut off, and never nothing of something.
func TestMillionths(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		p    float64
		want int
	}{
		{0, 0}, {1e-9, 1}, {1e-6, 1}, {999e-6, 999}, {1000e-6, 1000}, {1001e-6, 1000}, {1009e-6, 1000}, {1019e-6, 1010}, {0.012345, 12300}, {0.5, 500000}, {0.99999, 999000}, {1, 1000000},
	} {
		td.Cmp(t, millionths(x.p), x.want, "%v", x.p)
	}
	td.Cmp(t, stepOf(vitals.HeartRate), 100.0)
	td.Cmp(t, stepOf(vitals.RectalTemperature), 10000.0, "0.1 degrees are told, in Fahrenheit too")
	for x, want := range map[float64]int{34.5: 3450, 34.509: 3450, 34.51: 3451, -0.001: -1, 0: 0} {
		td.Cmp(t, cut(x, 100), want, "%v", x)
	}
	td.Cmp(t, middle(cut(middle(3450, 100), 100), 100), 34.505)
}

// What was sent of a comparison is refused where a column does not belong to the exam; each at its limit.
func TestRestsAtTheirLimits(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 3)
	for name, x := range map[string]struct {
		spoil  func(r *Rests)
		refuse string
	}{
		"as it is":             {func(*Rests) {}, ""},
		"a probability of 1":   {func(r *Rests) { r.Tail[0] = 1_000_000 }, ""},
		"above 1":              {func(r *Rests) { r.Tail[0] = 1_000_001 }, "/tail"},
		"below 0":              {func(r *Rests) { r.Tail[0] = -1 }, "/tail"},
		"no exams":             {func(r *Rests) { r.Exams[0], r.Seen[0], r.UsualSeen[0] = 0, 0, 0 }, ""},
		"seen in no exams":     {func(r *Rests) { r.Exams[0] = 0 }, "/seen"},
		"fewer than none":      {func(r *Rests) { r.Exams[0] = -1 }, "/exams"},
		"seen fewer than none": {func(r *Rests) { r.Seen[0] = -1 }, "/seen"},
		"usual, than none":     {func(r *Rests) { r.UsualSeen[0] = -1 }, "/usualSeen"},
		"another letter":       {func(r *Rests) { r.Says = "?" + r.Says[1:] }, "/says"},
		"a letter too many":    {func(r *Rests) { r.Says += "u" }, "/says"},
		"weak":                 {func(r *Rests) { r.Weak = "x" + r.Weak[1:] }, "/weak"},
		"one too few":          {func(r *Rests) { r.Own = r.Own[1:] }, "/own"},
		"no usual":             {func(r *Rests) { r.Usual = r.Usual[1:] }, "/usual"},
		"the last place":       {func(r *Rests) { r.Settle = [][]string{{"24", "count", "1000"}} }, ""},
		"a chance above 1":     {func(r *Rests) { r.Settle = [][]string{{"24", "count", "1001"}} }, "/settle/0"},
		"a sentence":           {func(r *Rests) { r.Settle = [][]string{{"24", "Give 10 ml.", "1"}} }, "/settle/0"},
		"a warning's sentence": {func(r *Rests) { r.Warnings = [][]string{{"", "Whorl has checked this horse"}} }, "/warnings/0"},
		"a warning's fact":     {func(r *Rests) { r.Warnings = [][]string{{"14", "not-seen", "n", "3. Give 10 ml"}} }, "/warnings/0"},
		"another fact":         {func(r *Rests) { r.Warnings = [][]string{{"14", "not-seen", "sex", "3"}} }, "/warnings/0"},
		"no such place":        {func(r *Rests) { r.Warnings = [][]string{{"14", "site-changed", "site", "the moon"}} }, "/warnings/0"},
		"a rate of 900": {func(r *Rests) {
			r.Warnings = [][]string{{"14", "trend", "n", "3", "days", "9", "from", "40", "to", "900"}}
		}, "/warnings/0"},
		"a rate of 90": {func(r *Rests) {
			r.Warnings = [][]string{{"14", "trend", "n", "3", "days", "9", "from", "40", "to", "90"}}
		}, ""},
		"high below low":       {func(r *Rests) { r.Own[0] = r.Own[2] + 1 }, "/own"},
		"beyond the span":      {func(r *Rests) { r.Own[1], r.Own[2] = 30_000, 30_000 }, "/own"},
		"no such answer":       {func(r *Rests) { r.Usual[0] = "Whorl says it is fine" }, "/usual"},
		"higher of no number":  {func(r *Rests) { r.Says = "h" + r.Says[1:] }, "/says"},
		"seen more than asked": {func(r *Rests) { r.Seen[0] = 4 }, "/seen"},
		"more signs than seen": {func(r *Rests) { r.Overall[0] = 26 }, "/overall"},
		"a lesson's sentence":  {func(r *Rests) { r.Not = [][]string{{"Nothing is wrong.", "1"}} }, "/not/0"},
		"beyond the last":      {func(r *Rests) { r.Settle = [][]string{{"25", "count", "1"}} }, "/settle/0"},
		"before the first":     {func(r *Rests) { r.Settle = [][]string{{"-1", "count", "1"}} }, "/settle/0"},
		"no place":             {func(r *Rests) { r.Settle = [][]string{{"x", "count", "1"}} }, "/settle/0"},
		"no chance":            {func(r *Rests) { r.Settle = [][]string{{"0", "count", "x"}} }, "/settle/0"},
		"too short":            {func(r *Rests) { r.Settle = [][]string{{"0", "count"}} }, "/settle/0"},
		"of all":               {func(r *Rests) { r.Warnings = [][]string{{"", "x"}} }, ""},
		"of one":               {func(r *Rests) { r.Warnings = [][]string{{"24", "x", "name", "value"}} }, ""},
		"of no other":          {func(r *Rests) { r.Warnings = [][]string{{"25", "x"}} }, "/warnings/0"},
		"of nothing":           {func(r *Rests) { r.Warnings = [][]string{{"", "x"}, {"y", "x"}} }, "/warnings/1"},
		"no key":               {func(r *Rests) { r.Warnings = [][]string{{""}} }, "/warnings/0"},
		"empty":                {func(r *Rests) { r.Warnings = [][]string{{}} }, "/warnings/0"},
		"half a fact":          {func(r *Rests) { r.Warnings = [][]string{{"", "x", "name"}} }, "/warnings/0"},
		"of all, P of 1":       {func(r *Rests) { r.Overall = []int{0, 1_000_000, -5} }, ""},
		"signs below none":     {func(r *Rests) { r.Overall = []int{-1, 0, 0} }, "/overall"},
		"P above 1":            {func(r *Rests) { r.Overall = []int{1, 1_000_001, 0} }, "/overall"},
		"two of three":         {func(r *Rests) { r.Overall = []int{1, 1} }, "/overall"},
		"taught none":          {func(r *Rests) { r.Taught = 0 }, ""},
		"taught fewer":         {func(r *Rests) { r.Taught = -1 }, "/taught"},
		"taught most":          {func(r *Rests) { r.Taught = maxLessons }, ""},
		"taught more":          {func(r *Rests) { r.Taught = maxLessons + 1 }, "/taught"},
		"not, once":            {func(r *Rests) { r.Not = [][]string{{"x", "1"}} }, ""},
		"not, never":           {func(r *Rests) { r.Not = [][]string{{"x", "0"}} }, "/not/0"},
		"not, most":            {func(r *Rests) { r.Not = [][]string{{"x", "10000"}} }, ""},
		"not, more":            {func(r *Rests) { r.Not = [][]string{{"x", "10001"}} }, "/not/0"},
		"not, no number":       {func(r *Rests) { r.Not = [][]string{{"x", "y"}} }, "/not/0"},
		"not, no count":        {func(r *Rests) { r.Not = [][]string{{"x"}} }, "/not/0"},
		"not, most in all":     {func(r *Rests) { r.Not = [][]string{{"x", "9999"}, {"y", "1"}} }, ""},
		"not, more in all":     {func(r *Rests) { r.Not = [][]string{{"x", "9999"}, {"y", "2"}} }, "/not/1"},
	} {
		s := New(bramble, exam, &c)
		x.spoil(s.Rests)
		want := []string{}
		if x.refuse != "" {
			want = []string{string(FaultNotOfExam) + " /rests" + x.refuse}
		}
		got := []string{}
		for _, f := range s.Check() {
			got = append(got, string(f.Code)+" "+f.Path)
		}
		td.Cmp(t, got, want, name)
		if x.refuse == "" {
			_, err := s.Comparison()
			td.CmpNoError(t, err, name)
		}
	}
}

// A statement's letter, its capital where it stands out, and the place of a finding that was not compared.
func TestRestsComeBack(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 3)
	// Two taps give no rate: that finding is not compared, those behind it are.
	exam.Findings = slices.Clone(exam.Findings)
	exam.Findings[14].Taps = &vitals.Taps{AtMS: []int{0, 1600}}
	c, err := must(baseline.New(bramble)).Compare(exam)
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(c.Signs, td.Len(24))
	for i := range c.Signs {
		s := &c.Signs[i]
		if s.Measure == nil {
			s.Statement = statements[[]int{0, 3, 4, 5}[i%4]]
		}
		s.Strong = i%3 == 0 && s.Statement.Unusual()
		s.Basis.Exams, s.Basis.Weak, s.Tail = i+1, i%2 == 0, float64(i)/1000
	}
	own := &c.Signs[9]
	own.Own, own.Statement = &baseline.Interval{Low: 0, Mid: 0, High: 0.125}, baseline.Higher
	c.Signs[12].Own, c.Signs[12].Statement = &baseline.Interval{Low: 0.125, Mid: 0.125, High: 0.125}, baseline.Higher
	c.Signs[13].Own, c.Signs[13].Statement = nil, baseline.Noted
	c.Overall.P, c.Overall.Far, c.Overall.Signs = c.Overall.Level, 0.5, 7
	sent := New(bramble, exam, &c)
	td.Cmp(t, sent.Rests.Says[14], byte('x'))
	back, err := sent.Comparison()
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(back.Signs, td.Len(24))
	for i, s := range back.Signs {
		want := c.Signs[i]
		td.Cmp(t, []any{s.Sign, s.Site, s.Statement, s.Strong, s.Basis.Exams, s.Basis.Weak, s.Tail}, []any{want.Sign, want.Site, want.Statement, want.Strong, want.Basis.Exams, want.Basis.Weak, want.Tail}, i)
		td.Cmp(t, s.Own == nil, want.Own == nil, i)
	}
	td.Cmp(t, back.Signs[9].Own.High, td.N(0.125, 0.01))
	td.Cmp(t, back.Signs[12].Own.Low, td.N(0.125, 0.01))
	td.Cmp(t, back.Overall.Unusual, false, "not below the level")
	td.Cmp(t, back.Overall.Signs, 7)
	// A warning and an advice of a finding that was not compared have no place, and are left out.
	sent.Rests.Settle = [][]string{{"14", "count", "1"}, {"0", "tries", "500"}}
	sent.Rests.Warnings = [][]string{{"14", "x"}, {"0", "y"}, {"", "z"}}
	back, err = sent.Comparison()
	td.Require(t).CmpNoError(err)
	td.Cmp(t, back.Signs[0].Settle.Advice, "settle.tries")
	td.Cmp(t, back.Signs[0].Warnings, td.Len(1))
	td.Cmp(t, back.Warnings, []baseline.Warning{{Key: baseline.WarnSent, Args: []string{"by", "Rowan"}}, {Key: baseline.WarnSentMore, Args: []string{"key", "warning.z"}}, c.Warnings[0]})
	for _, s := range back.Signs[1:] {
		td.Cmp(t, s.Settle, td.Nil())
		td.Cmp(t, s.Warnings, td.Empty())
	}
}

// What was sent of the rechecks is refused where its columns do not fit each other; each at its limit.
func TestCoursesAtTheirLimits(t *testing.T) {
	t.Parallel()
	fine := func() *Course {
		return &Course{Of: []string{"heart-rate/jaw", "gum-colour"}, Looks: []int{2, 1}, Minutes: []int{-60, 0, 0}, Values: []int{4050, 4450}, SDs: []int{50, 50},
			Chosen: []string{"pink"}, Way: "nb", Slope: []int{0, 0, 0, 0, 0}, Missing: []int{0, 0}}
	}
	many := func(n int) func(c *Course) {
		return func(c *Course) {
			*c = Course{Of: slices.Repeat([]string{"gum-colour"}, n), Looks: slices.Repeat([]int{1}, n), Minutes: make([]int, n), Chosen: slices.Repeat([]string{"pink"}, n),
				Way: strings.Repeat("s", n), Missing: make([]int, n)}
		}
	}
	looks := func(n int) func(c *Course) {
		return func(c *Course) {
			*c = Course{Of: []string{"gum-colour"}, Looks: []int{n}, Minutes: make([]int, max(n, 0)), Chosen: slices.Repeat([]string{"pink"}, max(n, 0)), Way: "s", Missing: []int{0}}
		}
	}
	for name, x := range map[string]struct {
		spoil  func(c *Course)
		refuse string
	}{
		"as it is":         {func(*Course) {}, ""},
		"nothing":          {many(0), "/of"},
		"most signs":       {many(maxLooks), ""},
		"too many signs":   {many(maxLooks + 1), "/of"},
		"most looks":       {looks(maxLooks), ""},
		"too many looks":   {looks(maxLooks + 1), "/looks"},
		"no look":          {looks(0), "/looks"},
		"a week before":    {func(c *Course) { c.Minutes[0] = -10_080 }, ""},
		"longer":           {func(c *Course) { c.Minutes[0] = -10_081 }, "/minutes"},
		"a week after":     {func(c *Course) { c.Minutes[0] = 10_080 }, ""},
		"later":            {func(c *Course) { c.Minutes[0] = 10_081 }, "/minutes"},
		"in ten minutes":   {func(c *Course) { c.Slope[4] = 10 }, ""},
		"in an hour":       {func(c *Course) { c.Slope[4] = 60 }, ""},
		"in eleven":        {func(c *Course) { c.Slope[4] = 11 }, "/slope"},
		"missing some":     {func(c *Course) { c.Missing[1] = 3 }, ""},
		"missing fewer":    {func(c *Course) { c.Missing[1] = -1 }, "/missing"},
		"a rank":           {func(c *Course) { c.Ranks = [][]int{{0, 5, 0}, {1, 5, 1_000_000}} }, ""},
		"a rank of none":   {func(c *Course) { c.Ranks = [][]int{{2, 5, 0}} }, "/ranks/0"},
		"before the first": {func(c *Course) { c.Ranks = [][]int{{-1, 5, 0}} }, "/ranks/0"},
		"P above 1":        {func(c *Course) { c.Ranks = [][]int{{0, 5, 1_000_001}} }, "/ranks/0"},
		"P below 0":        {func(c *Course) { c.Ranks = [][]int{{0, 5, -1}} }, "/ranks/0"},
		"short":            {func(c *Course) { c.Ranks = [][]int{{0, 5}} }, "/ranks/0"},
		"a warning":        {func(c *Course) { c.Warnings = [][]string{{"0", "x"}, {"1", "x", "name", "value"}} }, ""},
		"a sentence":       {func(c *Course) { c.Warnings = [][]string{{"0", "All is well."}} }, "/warnings/0"},
		"not its fact":     {func(c *Course) { c.Warnings = [][]string{{"0", "watch.earlier", "n", "3 of them. All is well"}} }, "/warnings/0"},
		"rising, no slope": {func(c *Course) { c.Way = "rb" }, "/slope"},
		"too steep":        {func(c *Course) { c.Slope = []int{2_000_000_000, 0, 0, 0, 60} }, "/slope"},
		"no such rate":     {func(c *Course) { c.Values[1] = 90_000 }, "/values"},
		"no such SD":       {func(c *Course) { c.SDs[1] = -1 }, "/sds"},
		"no such place":    {func(c *Course) { c.Of[0] = "heart-rate/the moon" }, "/of"},
		"no such sign":     {func(c *Course) { c.Of[1] = "All is well" }, "/of"},
		"no such answer":   {func(c *Course) { c.Chosen[0] = "All is well" }, "/chosen"},
		"of none":          {func(c *Course) { c.Warnings = [][]string{{"2", "x"}} }, "/warnings/0"},
		"of minus one":     {func(c *Course) { c.Warnings = [][]string{{"-1", "x"}} }, "/warnings/0"},
		"no place":         {func(c *Course) { c.Warnings = [][]string{{"", "x"}} }, "/warnings/0"},
		"no key":           {func(c *Course) { c.Warnings = [][]string{{"0"}} }, "/warnings/0"},
		"no warning":       {func(c *Course) { c.Warnings = [][]string{{}} }, "/warnings/0"},
		"half a fact":      {func(c *Course) { c.Warnings = [][]string{{"0", "x", "name"}} }, "/warnings/0"},
	} {
		c := fine()
		x.spoil(c)
		want := []string{}
		if x.refuse != "" {
			want = []string{string(FaultNotOfExam) + " " + x.refuse}
		}
		got := []string{}
		for _, f := range c.check() {
			got = append(got, string(f.Code)+" "+f.Path)
		}
		td.Cmp(t, got, want, name)
		if x.refuse == "" {
			td.Cmp(t, c.watched(time.Unix(0, 0)), td.NotEmpty(), name)
		}
	}
}

// A line through the middle of the readings, at the slope that was sent; a sign that this version does not
// know, or knows as one of another kind, is left out with what belongs to it.
func TestCourseComesBack(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 11, 14, 2, 5, 0, 0, time.UTC)
	c := Course{Of: []string{"no-such-sign", "heart-rate/jaw", "gum-colour", "skin-tent/neck"}, Looks: []int{1, 3, 1, 1}, Minutes: []int{0, -120, -60, 0, 0, 0},
		Values: []int{1, 4000, 4600, 5200, 7}, SDs: []int{1, 50, 50, 50, 7}, Chosen: []string{"pink"}, Way: "nrbt",
		Slope: []int{0, 0, 0, 0, 0, 600_000, 500_000, 700_000, 1000, 60, 0, 0, 0, 0, 0, 0},
		Ranks: [][]int{{0, 5, 1}, {1, 600_000, 250_000}}, Missing: []int{0, 1, 2, 3},
		Warnings: [][]string{{"0", "watch.uneven"}, {"1", "watch.earlier", "n", "3"}, {"1", "later.version"}, {"2", "watch.alarm"}}}
	out := c.watched(at)
	td.Require(t).Cmp(out, td.Len(3))
	heart := out[0]
	td.Cmp(t, []any{heart.Sign, heart.Site, heart.Missing, heart.Trend, heart.From, heart.To}, []any{vitals.HeartRate, vitals.SiteID("jaw"), 1, watch.Rising, at.Add(-2 * time.Hour), at})
	td.Cmp(t, heart.Slope.PerHour, td.N(6.0, 1e-4))
	td.Cmp(t, heart.Robust.P, 0.25)
	for i, line := range []float64{40, 46, 52} {
		td.Cmp(t, heart.Points[i].Value, td.N(line, 0.01))
		td.Cmp(t, heart.Points[i].Line, td.N(line, 0.01))
		td.Cmp(t, heart.Points[i].Minutes, 60*float64(i))
	}
	td.Cmp(t, heart.Warnings, []baseline.Warning{{Key: "watch.earlier", Args: []string{"n", "3"}}})
	td.Cmp(t, []any{out[1].Sign, out[1].Course, out[1].Missing}, []any{vitals.GumColour, vitals.Better, 2})
	td.Cmp(t, out[1].Warnings, td.Len(1))
	td.Cmp(t, out[2].Slope, td.Nil())
	td.Cmp(t, out[2].Robust, td.Nil())
	c.Way = "brst" // the graded sign as a measured one and the other way round
	c.Of[0], c.Of[2] = "heart-rate", "no-such-sign"
	c.Chosen = []string{"pink", "pink"}
	td.Cmp(t, c.watched(at), td.Len(2))
}

// As many looks are sent as a link can hold, and not one more.
func TestMostLooks(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 11, 14, 2, 5, 0, 0, time.UTC)
	watched := func(n int) watch.Watched {
		w := watch.Watched{Sign: vitals.HeartRate, From: at.Add(-time.Hour), To: at, Trend: watch.Rising}
		for range n {
			w.Points = append(w.Points, watch.WatchedPoint{At: at, Measure: vitals.Measure{Value: 40, SD: 1, Unit: vitals.PerMinute}})
		}
		return w
	}
	td.Cmp(t, courseOf(at, []watch.Watched{watched(maxLooks)}).Looks, []int{maxLooks})
	td.Cmp(t, courseOf(at, []watch.Watched{watched(maxLooks + 1)}), td.Nil())
	td.Cmp(t, courseOf(at, []watch.Watched{watched(maxLooks - 50), watched(51), watched(50)}).Looks, []int{maxLooks - 50, 50})
	// What moved goes before what comes first in the catalogue.
	still, moved := watched(maxLooks), watched(10)
	still.Trend = watch.NoTrendShown
	td.Cmp(t, courseOf(at, []watch.Watched{still, moved}).Looks, []int{10})
}
