package plan

import "testing"

// TestRowA7_AFileOfBeforeThePictureWasScaledStillReads holds the reading of the
// plan that was saved when the format was new: it has none of the members that
// came later, such as what its picture was scaled by, and comes back as it was.
func TestRowA7_AFileOfBeforeThePictureWasScaledStillReads(t *testing.T) {
	doc := readFile(t, "../../testdata/plans/format-1-first.json")
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Encode(); string(got) != string(doc) {
		t.Errorf("the first plan of format 1 reads as\n%s\nwant\n%s", got, doc)
	}
	u := p.Underlay
	if u == nil || u.FtPerPx != 0.1 || u.WidthPx != 0 || u.ScaledBy != nil || u.CheckedBy != nil {
		t.Errorf("its picture reads as %+v", u)
	}
}
