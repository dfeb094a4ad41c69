"""The commented job file that a new job starts from."""

STARTER = """\
# A job for parametric-wall. All lengths in mm; keys carry their unit.
# Change what you need, then:  parametric-wall build THIS_FILE --out DIR

title = "Raised planter by the back door"
client = ""
# date = 2026-04-01
notes = ""

[block]
size = "290x140x140"          # see: parametric-wall sizes; or give the figures instead:
# length_mm = 290
# width_mm = 140
# height_mm = 140
# heights_mm = [65, 140]      # blocks of two or three heights, in place of height_mm
# lengths_mm = [190, 290, 390]    # lengths mixed in every course, in place of length_mm
# mix = [1, 2, 1]             # how many of each come in a pack; without it, one by one
# density_kg_m3 = 2000

[joints]
bed_mm = 10                   # opens or closes within its range to meet a finished height
bed_min_mm = 6
bed_max_mm = 15
perp_mm = 10

[bond]
wish = "best"                 # wastes least; or half, third or quarter, which then come first
# course_heights_mm = [140, 65]   # such courses from the bottom, repeated
# third = "raking"            # or "to and fro"
# min_lap_mm = 56             # default: the overlap rule for the block's height
# min_cut_mm = 100
# most_alike = 3              # mixed lengths: blocks of one length side by side, at the most
# seed = 1                    # mixed lengths: another number lays another wall
# min_closer_mm = 50          # a closer stands only beside a return
# adjust = true               # perps open or close within their range where that saves cuts

[cutting]
tool = "hammer and bolster"   # or "saw"; decides what is lost between two pieces of one block
# reuse_offcuts = true

[coping]
size = "600x240x50"
overhang_front_mm = 50        # to the lower arris; the back follows from the width
overhang_end_mm = 40          # at stop ends
joint_mm = 10
corner = "mitred"             # or "run through"
profile = "flat"              # a slab bedded to a fall; or "weathered", flat underneath
fall = { to = "front", mm = 6, in_mm = 240 }
drip = { width_mm = 10, depth_mm = 8, distance_mm = 15 }

[footing]                     # or [base] with level_mm, to build on an existing base
spread_mm = 100
depth_mm = 150
below_ground_mm = 50          # how far the first course starts below ground

# [movement]                  # joints that divide every run longer than their spacing
# spacing_mm = 6000           # blockwork garden walls: at most 6000
# width_mm = 10
# ties = "slip ties"          # or "none"

# [site]                      # what only you can know; what is left out is asked for
# exposure_zone = 2           # 1 to 4, from the map of the public height table
# sheltered = false
# highway = "vehicles"        # next to the wall: vehicles, other or none
# neighbour_distance_mm = 4500    # from the digging to a neighbour's building or wall
# neighbour_founded_mm = 600      # how deep that is founded
# street_distance_mm = 8000   # for walls that hold back soil
# street_level_mm = 0         # of the boundary at the street

# [ground]
# kind = "firm clay"          # rock, stiff clay, loose sand, ... ; see: schema job
# shrinkable = "no"           # or low, medium, high

# [wind]                      # on free-standing walls; a filled planter is braced by its soil
# basic_velocity_m_s = 22     # of the wind map, at sea level
# altitude_m = 60
# terrain = "II"              # 0 sea, I flat and open, II low growth, III villages, IV town
# peak_pressure_Pa = 500      # or this, in place of the three above, from a designer
# [masonry]                   # how the bed joints hold in the wind
# unit = "concrete block"     # or "concrete brick", "calcium silicate", "clay"
# mortar = "M4"
# control = 2                 # class of execution control

# [soil]                      # in planters; what is not given is assumed, and said so
# kind = "topsoil"
# weight_kN_m3 = 18           # as it stands, moist or wet
# friction_deg = 25
# surcharge_kPa = 2.5         # what will stand or walk on it
# How things are bought, mixed and dug; see: parametric-wall order THIS_FILE
# [waste]                       # per cent, in place of the usual figures
# block_percent = 5
# [packs]
# blocks = 72                   # to a pack; or sizes = { "290x140x140" = 72 }
# loose = "as it suits"         # or "25 kg bags", "bulk bags", "loose tonnes", "loose m3"
# bulk_bag_kg = 800
# dpc_roll_m = 20
# [mortar]
# mix = "1:3"                   # cement to sand; or "1:1:6" with lime, or M12, M6, M4, M2
# plasticiser_ml_per_bag = 150  # only as the maker's label says
# [concrete]
# made_of = "ballast"           # 1:6; or "sand and coarse" with mix = "1:2:4", or "ready-mix"
# [mixing]
# mixer_l = 90                  # wet mix at a time
# bucket_l = 14
# [digging]
# soil = "clay"
# reuse_as_fill = false         # what is left over goes into the planters
# skip_yd = 4
# [planting]
# geotextile = true
# back_face = "membrane"        # or "none"

# [crew]                      # see: parametric-wall days
# people = 2
# hours_a_day = 8

[[walls]]
name = "planter"
place = { x_mm = 0, y_mm = 0, heading_deg = 0 }
plan = { shape = "rectangle", length_mm = 1940, width_mm = 1040 }   # outside sizes
# plan = { shape = "straight", length_mm = 3590 }
# plan = { shape = "legs", legs = [{ length_mm = 3590, turn = "left" }, { length_mm = 2240 }] }
# start = { kind = "abutment", joint = "movement", fixing = "ties" }  # open plans; or kind = "stop"
height = { courses = 3 }      # or finished_mm, to the highest arris of the coping
fill = { base_level_mm = 0, drainage_mm = 100, below_coping_mm = 50 }
weeps = { kind = "open perps", spacing_mm = 900 }
# soil = { retained_mm = 350, drainage_strip_mm = 300 }   # behind an open wall, in place of fill
"""
