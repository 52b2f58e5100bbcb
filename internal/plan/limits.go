package plan

// The limits of a document. They are far above what a property needs, and keep
// a hostile file from filling the memory before anything else is looked at.
const (
	MaxDepth    = 32       // objects and arrays within one another
	MaxObjects  = 50_000   // things in all collections together
	MaxVertices = 200_000  // corners of all outlines and lines together
	MaxText     = 2_000    // characters in one text
	MaxID       = 40       // characters in one id
	MaxCans     = 2_000    // catch-cans of one audit
	MaxPhotos   = 500      // photographs of a plan
	MaxBytes    = 16 << 20 // of a document or a patch
)

// maxBraces and maxBrackets bound the objects and arrays of any kind in the
// text before it is decoded: a thing holds a few smaller objects, and a corner
// is an array in the array of its outline.
const (
	maxBraces   = 4 * MaxObjects
	maxBrackets = 2 * MaxVertices
)

// maxProblems is how many problems of one document are told at once.
const maxProblems = 100
