package vision

import "gocv.io/x/gocv"

// OpenCVVersion is the version of the OpenCV that the program was built with, such as 4.6.0.
func OpenCVVersion() string { return gocv.OpenCVVersion() }
