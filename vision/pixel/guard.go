package pixel

import (
	"errors"
	"fmt"
)

// ErrFault is a fault of the program's own, met on one picture.
var ErrFault = errors.New("the program itself failed on this picture")

// Guard, deferred, keeps a fault met on one picture from taking the other frames of an evening with
// it; as says what becomes of that picture. It is the last resort: the fuzz targets hold that no
// picture comes to it.
func Guard(as func(fault error)) {
	if what := recover(); what != nil {
		as(fmt.Errorf("%w (%v); the other frames do not suffer from it: please report it, with the picture",
			ErrFault, what))
	}
}
