package rig

// rigFile mirrors rig.toml; nil and empty stand for what is left out.
type rigFile struct {
	Camera  cameraFile  `toml:"camera,omitempty" json:"camera,omitzero"`
	Lens    lensFile    `toml:"lens,omitempty" json:"lens,omitzero"`
	Trigger triggerFile `toml:"trigger,omitempty" json:"trigger,omitzero"`
	Flash   []flashFile `toml:"flash,omitempty" json:"flash,omitempty"`
	Limits  limitsFile  `toml:"limits,omitempty" json:"limits,omitzero"`
}

type cameraFile struct {
	SensorMM     []float64 `toml:"sensor_mm,omitempty" json:"sensor_mm,omitempty" help:"width and height of the sensor, mm"`
	Pixels       []int     `toml:"pixels,omitempty" json:"pixels,omitempty" help:"width and height of the picture, pixels"`
	Shutter      *string   `toml:"shutter,omitempty" json:"shutter,omitempty" help:"mechanical, electronic first curtain, electronic, or open: held open, the flash alone makes the picture"`
	Sync         *string   `toml:"sync,omitempty" json:"sync,omitempty" help:"which curtain of the shutter fires the flash: first curtain or second curtain"`
	SyncS        *float64  `toml:"sync_s,omitempty" json:"sync_s,omitempty" help:"shortest shutter time that shows the whole frame to the flash, s"`
	ISO          *int      `toml:"iso,omitempty" json:"iso,omitempty" help:"ISO speed set on the camera"`
	AmbientEV100 *float64  `toml:"ambient_ev100,omitempty" json:"ambient_ev100,omitempty" help:"ambient light at the set, exposure value at ISO 100; leave out if unknown"`
}

type lensFile struct {
	FocalMM   *float64  `toml:"focal_mm,omitempty" json:"focal_mm,omitempty" help:"focal length, mm"`
	ClosestMM *float64  `toml:"closest_mm,omitempty" json:"closest_mm,omitempty" help:"closest focus, from the sensor plane, mm"`
	FNumbers  []float64 `toml:"f_numbers,omitempty" json:"f_numbers,omitempty" help:"widest and narrowest aperture"`

	MaxMagnification   *float64 `toml:"max_magnification,omitempty" json:"max_magnification,omitempty" help:"largest magnification, picture on the sensor over subject (1 for 1:1)"`
	PupilMagnification *float64 `toml:"pupil_magnification,omitempty" json:"pupil_magnification,omitempty" help:"diameter of the aperture seen from behind over that seen from the front; 1 if unknown"`
}

type triggerFile struct {
	BeamMM  *float64 `toml:"beam_mm,omitempty" json:"beam_mm,omitempty" help:"width of the beam, mm"`
	DelayMS *float64 `toml:"delay_ms,omitempty" json:"delay_ms,omitempty" help:"added delay now set, ms"`

	BeamClass *string  `toml:"beam_class,omitempty" json:"beam_class,omitempty" help:"led, or the laser class printed on it: 1, 1M, 2, 2M, 3R, 3B or 4"`
	BurstHz   *float64 `toml:"burst_hz,omitempty" json:"burst_hz,omitempty" help:"flashes a second, where one trip fires several"`
}

type flashFile struct {
	Name         *string            `toml:"name,omitempty" json:"name,omitempty" help:"a name of your own"`
	Lights       *string            `toml:"lights,omitempty" json:"lights,omitempty" help:"subject, rim or backdrop"`
	GuideNumberM *float64           `toml:"guide_number_m,omitempty" json:"guide_number_m,omitempty" help:"guide number at ISO 100 and full power, m"`
	Powers       []string           `toml:"powers,omitempty" json:"powers,omitempty" help:"highest and lowest power, such as \"1/1\" and \"1/128\""`
	Power        *string            `toml:"power,omitempty" json:"power,omitempty" help:"power now set, such as \"1/64\""`
	DistanceMM   *float64           `toml:"distance_mm,omitempty" json:"distance_mm,omitempty" help:"from the head to the subject, mm"`
	LossStops    *float64           `toml:"loss_stops,omitempty" json:"loss_stops,omitempty" help:"light lost in a softbox, diffuser or gel, stops"`
	T01US        map[string]float64 `toml:"t01_us,omitempty" json:"t01_us,omitempty" help:"flash duration t0.1 at each power, microseconds"`
	T05US        map[string]float64 `toml:"t05_us,omitempty" json:"t05_us,omitempty" help:"flash duration t0.5 at each power, microseconds"`
	EnergyJ      *float64           `toml:"energy_j,omitempty" json:"energy_j,omitempty" help:"electrical energy of a flash at full power, J"`
	RecycleS     *float64           `toml:"recycle_s,omitempty" json:"recycle_s,omitempty" help:"time to charge again after a flash at full power, s"`
}

type limitsFile struct {
	MaxDropMM       *float64 `toml:"max_drop_mm,omitempty" json:"max_drop_mm,omitempty" help:"longest fall that the set has room for, mm"`
	MaxDelayMS      *float64 `toml:"max_delay_ms,omitempty" json:"max_delay_ms,omitempty" help:"longest delay that the controller can add, ms"`
	RecalibrateDays *float64 `toml:"recalibrate_days,omitempty" json:"recalibrate_days,omitempty" help:"days after which to calibrate anew"`
	DayEnergyJ      *float64 `toml:"day_energy_j,omitempty" json:"day_energy_j,omitempty" help:"most flash energy in one day, all heads together, J"`
}
