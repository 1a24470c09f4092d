package words

import "maps"

// picture is what a picture file, a ruler or an animal in it may be refused or doubted for.
func picture() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{file(), brokenFile(), ruler(), animal()} {
		maps.Copy(all, some)
	}
	return all
}

// file is why a file is not taken for a picture of the run.
func file() map[string]say {
	return map[string]say{
		"empty": as("the file holds no bytes; copy it from the card again"),
		"no-preview/none": as("the %s file holds no JPEG that could be read; develop it to a " +
			"JPEG of the same name"),
		"no-preview/small": as("the largest JPEG inside the %s file is %d px long, a " +
			"thumbnail; develop it to a JPEG of the same name"),
		"not-a-picture": as("the file does not begin like a picture of a kind that is read"),
		"other-size/scale": as("the picture has %d x %d px, those of the run that the scale is " +
			"from %d x %d: take both at one size, or state px_per_mm and line_px of this size in " +
			"shoot.toml"),
		"other-size/set": as("the picture is %d x %d px, the set's %d x %d: it is of another " +
			"camera, or was cropped"),
		"outside":              as("it is a link to a file outside the folders that are shown"),
		"program-fault":        as("%s"),
		"replaced":             as("the file was replaced while it was read"),
		"too-large/file":       as("the file has %d MB; at most %d MB are opened"),
		"too-large/inside-raw": as("of the JPEG inside the %s file: %s"),
		"too-large/picture": as("the header states %d x %d px; at most %d megapixels and %d px " +
			"a side are opened"),
		"unreadable/again":      as("it was to be looked at again: %s"),
		"unreadable/error":      as("it cannot be read: %s"),
		"unreadable/missing":    as("there is no such file"),
		"unreadable/not-a-file": as("it is not an ordinary file"),
		"unreadable/permission": as("its permissions do not let you read it"),
		"unreadable/picture":    as("%s"),
		"unsupported-format/film": as("the file is a film, which is not read; export single " +
			"pictures of it as JPEG, PNG or TIFF"),
		"unsupported-format/heif": as("the file is of the kind %s, which is not read; make a " +
			"JPEG of the same name of it (on Debian: heif-convert, of the package libheif-examples) and " +
			"set the camera to JPEG or RAW + JPEG"),
		"unsupported-format/inside-raw": as("of the JPEG inside the %s file: %s"),
		"unsupported-format/jpeg-bits":  as("the JPEG has %d bits a sample; export it with 8"),
		"unsupported-format/jpeg-rare": as("the JPEG is of a rare kind (lossless, hierarchical " +
			"or arithmetic coding); export it as an ordinary JPEG"),
		"unsupported-format/kind": as("the file is of the kind %s, which is not read; export " +
			"it as JPEG, PNG or TIFF of the same name"),
	}
}

// ruler is why a ruler is not read, or what is doubtful about it.
func ruler() map[string]say {
	return map[string]say{
		"across-travel/level": as("the ruler lies across the stated way of travel; travel is " +
			"the way the front end moves in the picture, here left or right"),
		"across-travel/upright": as("the ruler lies across the stated way of travel; travel is " +
			"the way the front end moves in the picture, here up or down"),
		"band-not-visible": as("the bold band across the ruler cannot be found; keep it in the " +
			"picture and in the light"),
		"code-disagrees": as("the code beside the graduations and the long graduations say " +
			"different readings; is a part of the ruler covered or smeared?"),
		"code-reversed": as("the readings rise towards the front end: glue the strip with its " +
			"zero at the front end, or check travel"),
		"dark": as("the picture is nearly black: did the flash fire, and was it open in time?"),
		"front-disagrees": as("the edge taken for the front end lies %.1f graduations from " +
			"where the long lines say it should be; check front_mm, or whether something covers the end"),
		"front-not-visible/picture": as("the ruler's front end cannot be found; keep it, and a " +
			"little of the backdrop beyond it, in the picture"),
		"graduation-disagrees": as("the lines are those of a ruler divided into %.4g mm, not into the "+
			"%.4g mm stated; check graduation_mm").in(milli, milli),
		"graduation-stated": as("graduation_mm is %.5g, %+.2f %% off the %.5g mm of such "+
			"rulers; the stated value was used: right for a print measured by its bar, wrong if it was "+
			"only rounded").in(milli, percent, milli),
		"graduation-unsure": as("the lines may be %.4g mm apart as well as %.4g mm, and the "+
			"whole scale with them: state the graduation, or show two more of the numbered lines").in(milli, milli),
		"mirrored": as("the ruler's code runs the wrong way round: the picture is mirrored, " +
			"and its lengths may not be believed"),
		"no-ruler": as("no row of regular graduations was found; is the ruler in the light and " +
			"in focus?"),
		"no-ruler/none": as("no row of regular graduations was found"),
		"no-ruler/still": as("only a ruler that lies still in the scene can be seen; the " +
			"moving one is not in the picture"),
		"too-few-graduations": as("only %d lines like graduations can be seen; %d are needed: if they are " +
			"a ruler's, show more of it, or light it better"),
		"twin-not-seen": as("twin_ms says that two flashes light each frame, but two images of " +
			"the ruler, front ends and graduations, cannot be told apart: one flash failed, the second " +
			"front end is out of the picture, or both lie too close; which flash shows the ruler is not " +
			"known, so it is not read"),
		"two-rulers": as("a second ruler lies at about (%.0f, %.0f) px; the one at (%.0f, " +
			"%.0f) px was read"),
	}
}

// animal is what makes an animal in a picture doubtful.
func animal() map[string]say {
	return map[string]say{
		"alike": as("the animal is of nearly the backdrop's colour, so its outline is " +
			"doubtful: use another backdrop"),
		"several": as("%d animals are in the picture; the largest is judged, and no lead is " +
			"learned from it"),
	}
}
