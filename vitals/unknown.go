package vitals

import "strconv"

// Bounds of what is kept without being understood, in one exam, one horse or one file.
const (
	MaxUnknown      = 1000    // entries
	MaxUnknownBytes = 1 << 20 // of all of them
)

// Raw is JSON as somebody else wrote it.
type Raw string

// Unknown is an entry of a newer minor format that this version does not understand. It is kept to the byte and written again,
// and nothing is concluded from it: it is the sender's.
type Unknown struct {
	// At is where it belongs, as a JSON Pointer from the object that keeps it; one that ends in "/-" is an item of that
	// list. A horse keeps exams of its own at "exams/-".
	At   string `json:"at"`
	JSON Raw    `json:"json"`
	// Minor is the minor format that it was read from.
	Minor int `json:"minor"`
}

// NotUnderstood is how many entries of the exam this version does not understand. It stands beside whatever is
// said of the exam.
func (e Exam) NotUnderstood() int {
	n := len(e.Unknown)
	for i := range e.Findings {
		n += len(e.Findings[i].Unknown)
	}
	return n
}

// CheckUnknown gives what is wrong with a list of entries that are not understood: only its bounds and its places.
func CheckUnknown(list []Unknown) Faults {
	var c check
	c.unknown("", list)
	return c.faults
}

func (c *check) unknown(path string, list []Unknown) {
	size := 0
	for i := range list {
		size += len(list[i].JSON)
		if at := list[i].At; len(at) < 2 || at[0] != '/' && at != "exams/-" {
			c.add(FaultBadText, path+"/unknown/"+strconv.Itoa(i)+"/at")
		}
	}
	if len(list) > MaxUnknown || size > MaxUnknownBytes {
		c.add(FaultTooLong, path+"/unknown", "most", strconv.Itoa(MaxUnknownBytes))
	}
}
