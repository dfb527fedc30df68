package fhir

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Codes of the faults of a document.
const (
	BadStatus    vitals.FaultCode = "fhir-status"    // missing, or not one of R4's
	BadCode      vitals.FaultCode = "fhir-code"      // no code, a coding without system, a LOINC code whose check digit is wrong
	BadUnit      vitals.FaultCode = "fhir-unit"      // not UCUM, or not the profile's
	BadValue     vitals.FaultCode = "fhir-value"     // none, or beside a reason for its absence
	BadDate      vitals.FaultCode = "fhir-date"      // no dateTime of R4
	BadReference vitals.FaultCode = "fhir-reference" // to nothing in the bundle, or missing
	BadRange     vitals.FaultCode = "fhir-range"     // upside down, or in another unit than the value
	BadBundle    vitals.FaultCode = "fhir-bundle"    // not a document: its type, its first entry, an address used twice
)

// Check gives what R4 and its vital signs profile would refuse in a document of this
// package, each with its place: what an exam cannot bring about when the code here is right.
func Check(b Bundle) vitals.Faults {
	c := check{known: map[string]bool{}}
	if b.ResourceType != "Bundle" || b.Type != "document" || len(b.Entry) == 0 || b.Entry[0].Resource.ResourceType != "Composition" {
		c.add(BadBundle, "")
	}
	c.date("/timestamp", b.Timestamp)
	for i, e := range b.Entry {
		if c.known[e.FullURL] || e.FullURL != "urn:uuid:"+e.Resource.ID || len(e.Resource.ID) != 36 {
			c.add(BadBundle, "/entry/"+strconv.Itoa(i)+"/fullUrl")
		}
		c.known[e.FullURL] = true
	}
	for i, e := range b.Entry {
		at := "/entry/" + strconv.Itoa(i) + "/resource"
		switch r := e.Resource; r.ResourceType {
		case "Composition":
			c.composition(at, r)
		case "Observation":
			c.observation(at, r)
		case "Patient":
			if r.BirthDate != "" && !shaped(r.BirthDate, "2006", "2006-01", "2006-01-02") {
				c.add(BadDate, at+"/birthDate")
			}
		case "RelatedPerson":
			c.reference(at+"/patient", r.Patient)
		case "MedicationStatement":
			c.medication(at, r)
		case "DetectedIssue":
			c.issue(at, r)
		case "Device":
		default:
			c.add(BadBundle, at+"/resourceType")
		}
	}
	return c.faults
}

type check struct {
	known  map[string]bool
	faults vitals.Faults
}

func (c *check) add(code vitals.FaultCode, path string) {
	c.faults = append(c.faults, vitals.Fault{Code: code, Path: path, Sentence: words.Say(words.English, "fault."+string(code))})
}

func (c *check) composition(at string, r Resource) {
	c.status(at, r.Status, "preliminary", "final", "amended", "entered-in-error")
	c.concept(at+"/type", r.Type)
	c.reference(at+"/subject", r.Subject)
	c.date(at+"/date", r.Date)
	if len(r.Author) == 0 {
		c.add(BadReference, at+"/author")
	}
	for i := range r.Author {
		c.reference(at+"/author/"+strconv.Itoa(i), &r.Author[i])
	}
	for i, s := range r.Section {
		for j := range s.Entry {
			c.reference(at+"/section/"+strconv.Itoa(i)+"/entry/"+strconv.Itoa(j), &s.Entry[j])
		}
	}
}

func (c *check) medication(at string, r Resource) {
	c.status(at, r.Status, "active", "completed", "entered-in-error", "intended", "stopped", "on-hold", "unknown", "not-taken")
	c.concept(at+"/medicationCodeableConcept", r.MedicationCodeableConcept)
	c.reference(at+"/subject", r.Subject)
	if r.EffectiveDateTime != "" {
		c.date(at+"/effectiveDateTime", r.EffectiveDateTime)
	}
	if r.InformationSource != nil {
		c.reference(at+"/informationSource", r.InformationSource)
	}
}

func (c *check) issue(at string, r Resource) {
	c.status(at, r.Status, "registered", "preliminary", "final", "amended", "corrected", "cancelled", "entered-in-error", "unknown")
	c.concept(at+"/code", r.Code)
	c.reference(at+"/patient", r.Patient)
	c.date(at+"/identifiedDateTime", r.IdentifiedDateTime)
	for i := range r.Implicated {
		c.reference(at+"/implicated/"+strconv.Itoa(i), &r.Implicated[i])
	}
}

func (c *check) observation(at string, r Resource) {
	c.status(at, r.Status, "registered", "preliminary", "final", "amended", "corrected", "cancelled", "entered-in-error", "unknown")
	c.concept(at+"/code", r.Code)
	c.reference(at+"/subject", r.Subject)
	c.date(at+"/effectiveDateTime", r.EffectiveDateTime)
	value := r.ValueQuantity != nil || r.ValueCodeableConcept != nil
	if value == (r.DataAbsentReason != nil) && !(len(r.Component) > 0 && !value && r.DataAbsentReason == nil) ||
		r.ValueQuantity != nil && r.ValueCodeableConcept != nil {
		c.add(BadValue, at)
	}
	for i, x := range r.Component {
		c.concept(at+"/component/"+strconv.Itoa(i)+"/code", &x.Code)
	}
	c.quantity(at+"/valueQuantity", r.ValueQuantity)
	if r.ValueQuantity != nil {
		c.profile(at, r)
	}
	for i, rr := range r.ReferenceRange {
		place := at + "/referenceRange/" + strconv.Itoa(i)
		c.quantity(place+"/low", rr.Low)
		c.quantity(place+"/high", rr.High)
		foreign := func(q *Quantity) bool { return q != nil && r.ValueQuantity != nil && q.Code != r.ValueQuantity.Code }
		if rr.Low != nil && rr.High != nil && rr.Low.Value > rr.High.Value || foreign(rr.Low) || foreign(rr.High) {
			c.add(BadRange, place)
		}
	}
}

// profile holds a vital sign to the units of its profile.
func (c *check) profile(at string, r Resource) {
	units := map[string][]vitals.Unit{
		"8867-4": {vitals.PerMinute}, "9279-1": {vitals.PerMinute}, "8310-5": {vitals.Celsius, vitals.Fahrenheit},
		"29463-7": {vitals.Kilogram, vitals.Pound}, "44971-0": {vitals.Second},
	}
	if r.Code == nil {
		return
	}
	for _, coding := range r.Code.Coding {
		if allowed := units[coding.Code]; coding.System == loinc && allowed != nil && !slices.Contains(allowed, r.ValueQuantity.Code) {
			c.add(BadUnit, at+"/valueQuantity/code")
		}
	}
}

func (c *check) status(at, s string, allowed ...string) {
	if !slices.Contains(allowed, s) {
		c.add(BadStatus, at+"/status")
	}
}

func (c *check) quantity(at string, q *Quantity) {
	if q != nil && (q.System != ucum || !slices.Contains(vitals.Units(), q.Code)) {
		c.add(BadUnit, at+"/code")
	}
}

func (c *check) concept(at string, k *Concept) {
	if k == nil || len(k.Coding) == 0 && strings.TrimSpace(k.Text) == "" {
		c.add(BadCode, at)
		return
	}
	for i, x := range k.Coding {
		if x.System == "" || x.Code == "" || x.System == loinc && !checkDigit(x.Code) {
			c.add(BadCode, at+"/coding/"+strconv.Itoa(i))
		}
	}
}

func (c *check) reference(at string, r *Reference) {
	if r == nil || !c.known[r.Reference] {
		c.add(BadReference, at)
	}
}

func (c *check) date(at, s string) {
	if !shaped(s, time.RFC3339) {
		c.add(BadDate, at)
	}
}

func shaped(s string, layouts ...string) bool {
	return slices.ContainsFunc(layouts, func(l string) bool { _, err := time.Parse(l, s); return err == nil })
}

// checkDigit holds a LOINC code to its last digit (Luhn's, modulo 10).
func checkDigit(code string) bool {
	number, digit, ok := strings.Cut(code, "-")
	if !ok || len(digit) != 1 {
		return false
	}
	sum := 0
	for i := range len(number) {
		d := int(number[len(number)-1-i] - '0') // what stands before '0' is far above 9
		if d > 9 {
			return false
		}
		if i%2 == 0 {
			if d *= 2; d > 9 {
				d -= 9
			}
		}
		sum += d
	}
	return int(digit[0]-'0') == (10-sum%10)%10
}
