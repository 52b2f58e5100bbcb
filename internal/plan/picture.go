package plan

import "errors"

// The largest picture that is laid under a drawing. A picture of these sizes
// takes up to 160 MB where it is shown; what is larger is refused by its header.
const (
	MaxPictureSide   = 12_000     // pixels
	MaxPicturePixels = 40_000_000 // width times height
)

// A picture is kept beside the plans that name it, and may be missing where a
// plan file was carried to another machine without it.
var (
	ErrNoPicture      = errors.New("this picture is not on this machine; choose it again")
	ErrPictureDamaged = errors.New("this picture is no longer what was kept; choose it again")
)
