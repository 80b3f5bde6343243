// Package canopy follows the tops of one planting of an overwintered root crop
// through one weather course, day by day, for all trait draws at once: leaves
// that appear, grow, fade, freeze and fall; the height and shade of what is
// left; chickweed below it; and the share of the stand that lifting belts can
// pull.
//
//	Sow ─► Grow: leaf ─► frostloss (hardiness) ─► height ─► light, weed
//	       LeafG, RelativeHeight ─► Lifting.Share
//
// Words: the top is all leaves of one plant. Mass is g dry per plant unless a
// name says fresh. LT50 is the canopy temperature that kills half of the
// exposed leaf tissue. °C d are degree days, single sine, above the base of
// leaf growth. LAI is leaf area index, m² of leaf per m² of ground. A draw is
// one pair of traits.
//
// No published series of carrot tops in winter exists to fit this model to;
// each constant says how far it can be trusted (Params.Constants).
//
// References, by the short keys used in the code:
//
//	Barillot et al. 2011              Annals of Botany 108:1013-1024; light shared in layers of a mixed canopy
//	Gusta & Fowler 1977               on repeated freezing of winter cereals
//	ICAR Indian J. Agric. Sci. 90825  article 90825; strength of carrot tops and pull of the roots
//	Lecomte et al. 2003               on repeated freezing of winter wheat
//	McGill thesis 1944                QMM.114110; frost injury of unhardened celery
//	Reid & English 2000               Annals of Botany 85:593-605; potential growth of carrot; from memory
//	Salter et al. 1981                variation between carrots of a stand
//	Skinner & Bellinger 2017          on mild freezing cycles that harden winter wheat
//	Spitters & Aerts 1983             Aspects of Applied Biology 4:467-483; light shared by crop and weed; from memory
//	Storkey & Cussans 2000            Weed Science 48:467-473; growth of Stellaria media
//	Turner et al. 2018                G3 8:411, raw data; tops of 36 carrot lines
package canopy
