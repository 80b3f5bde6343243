// Package weather turns the daily extremes of a station into what a crop's
// top lives through in winter: freeze–thaw events of the exposed leaves,
// light, hardening and snow. It knows nothing of plants.
//
// # The walk
//
//  1. Read decodes a station file into a Record with one Day for every
//     calendar day; Record.Filled closes gaps of up to three days.
//  2. Record.CountWinters counts frost, ice and freeze–thaw days on the
//     station's own values; Record.Complete says which winters may be played
//     forward.
//  3. A Site carries latitude, offsets of the field from the station, and the
//     Params. FitDrop fits its canopy drop to a logger among the leaves.
//  4. Splice joins the days seen so far with those of a past winter.
//  5. NewWinter computes everything that depends on weather alone, once:
//     field extremes, photosynthetically active radiation, canopy minima,
//     hardening, snow and the Events. Events does it for a whole record.
//  6. Winter.RootFrost follows the soil below the crop, Winter.Fit the water
//     in its topsoil: the days on which roots freeze or machines can work.
//
// # Glossary
//
//	term                       name in code, column            unit
//	screen temperature         MinC, MaxC; tmin_c, tmax_c      °C, air at 1.2–2 m, the station's
//	field temperature          Winter.MinC, Winter.MaxC        °C, station + offset
//	daily mean                 Winter.MeanC                    °C, (minimum + maximum) / 2
//	temperature of daylight    Winter.DayC                     °C, (mean + maximum) / 2
//	canopy temperature         CanopyMinC; min_canopy_c        °C, of the leaves themselves
//	drop                       CanopyDropC                     °C, screen minimum - canopy minimum
//	logger                     DropFit; logger.csv             thermometer among the leaves, read at least hourly
//	range                      DropFit.RangeC; mean_range_c    °C, yesterday's field maximum - field minimum
//	freezing point             FreezingPointC                  °C, canopy temperature that opens an event
//	thaw point                 ThawPointC                      °C, daily maximum that closes an event
//	freeze–thaw event          Event; event                    one freezing of the canopy and its thaw
//	nights                     Event.Nights; nights            canopy minima at or below the freezing point
//	hours frozen               Event.HoursFrozen; hours_frozen h, canopy below 0 °C
//	freezing degree-hours      FreezingDegreeHours             °C h, canopy below 0 °C
//	thaw peak                  ThawPeakC; thaw_peak_c          °C, maximum of the day that closes the event
//	degree-days                DegreeDays                      °C d
//	daylight                   DaylightHours                   h
//	extraterrestrial radiation ExtraterrestrialMJ (Ra)         MJ m⁻² d⁻¹
//	global radiation           GlobalMJ (Rs)                   MJ m⁻² d⁻¹
//	PAR                        Winter.PARMJ                    MJ m⁻² d⁻¹, photosynthetically active
//	reference evaporation      ReferenceET0MM (ET0)            mm d⁻¹
//	hardening index            Hardening (A)                   0–1, 1 = as hardy as the leaves become
//	snow                       SnowCM; snow_depth_cm           cm
//	crown                      CrownMinC                       °C, the root's head, above the soil unless hilled
//	root-frost day             RootFrost                       crown colder than root tissue freezes at
//	topsoil bucket             Bucket                          mm of water, full at BucketMM
//	fit day                    Fit; fit_days_left              machines can work
//	buried share               BuriedShare                     0–1 of a standing top
//	rain                       RainMM; rain_mm                 mm d⁻¹
//	winter                     WinterYear; winter              1 July–30 June, in the south the calendar year
//	frost season               WinterYear.FrostSeason          October–March, in the south April–September
//	trace                      argument of Splice              a past winter played forward
//	local solar time           Hour; start, end                noon when the sun is highest
//
// # References
//
// Keys as they stand beside the formulas and in the table of constants.
//
//	Allen 1976                 Allen, J. C. A modified sine wave method for calculating degree days.
//	                           Environmental Entomology 5:388–396.
//	Baskerville & Emin 1969    Rapid estimation of heat accumulation from maximum and minimum
//	                           temperatures. Ecology 50:514–517.
//	Beaton & Tukey 1974        The fitting of power series, meaning polynomials, illustrated on
//	                           band-spectroscopic data. Technometrics 16:147–185 (bisquare weights).
//	Durre et al. 2010          Comprehensive automated quality assurance of daily surface
//	                           observations. Journal of Applied Meteorology and Climatology
//	                           49:1615–1633 (limits from memory).
//	ETCCDI                     Expert Team on Climate Change Detection and Indices: FD, days with
//	                           minimum < 0 °C; ID, days with maximum < 0 °C.
//	FAO-56                     Allen, R. G., Pereira, L. S., Raes, D., Smith, M. 1998. Crop
//	                           evapotranspiration. FAO Irrigation and Drainage Paper 56, Rome.
//	Gay & Eagles 1991          Quantitative analysis of cold hardening and dehardening in Lolium.
//	                           Annals of Botany 67:339–345.
//	GHCN-Daily readme          NOAA National Centers for Environmental Information, readme of the
//	                           Global Historical Climatology Network daily: units, flags, -9999.
//	KNMI                       Royal Netherlands Meteorological Institute, daily station records.
//	Maronna et al. 2006        Robust Statistics: Theory and Methods. Wiley, chapter 4: covariance of
//	                           regression estimates (from memory).
//	Mosteller & Tukey 1977     Data Analysis and Regression. Addison-Wesley, chapter 14 (from memory).
//	Parton & Logan 1981        A model for diurnal variation in soil and air temperature.
//	                           Agricultural Meteorology 23:205–216.
//	Rousseeuw & Leroy 1987     Robust Regression and Outlier Detection. Wiley: factor of small samples
//	                           (from memory).
//	Schmidlin et al. 1987      Freeze-thaw days in the northeastern United States. Journal of
//	                           Climate and Applied Meteorology 26:142–155 (title from memory).
//	                           Severe freeze–thaw day: minimum ≤ -2.2 °C and maximum ≥ 0 °C.
//	Szeicz 1974                Solar radiation for plant growth. Journal of Applied Ecology
//	                           11:617–636.
//	Vieira et al. 2019         Days fit for machines in sugarcane, from a topsoil bucket. Agricultural
//	                           Sciences 10:597–621.
//	Whiteman 1957              Freezing points of fruits, vegetables and florist stocks. United States
//	                           Department of Agriculture, Marketing Research Report 196 (from memory).
//	Wilks 2011                 Statistical Methods in the Atmospheric Sciences. Academic Press, section
//	                           5.2: effective sample size of a series that remembers (from memory).
//	WMO extremes               World Meteorological Organization, archive of weather and climate
//	                           extremes: what has been measured at most (from memory).
package weather
