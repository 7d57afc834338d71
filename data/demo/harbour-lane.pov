// SPDX-License-Identifier: GPL-3.0-or-later
// The Harbour Lane Library's planting strip, between the front walk and the car park: the demo photo.
// Metres; X along the library front, Y from the car park to the library, Z up, ground plane Z = 0.
//
// To make the photo again (POV-Ray 3.7, ImageMagick 6, exiftool; about ten minutes on two cores).
// The picture is not remade by the build. Each command below is one line:
//   python3 truth.py
//   povray +Iharbour-lane.pov +Oraw.png +W2016 +H1512 +A0.15 +AM2 +R2 +FN16 -D
//   convert raw.png -set colorspace sRGB -level 0%,92%,1.12 -sigmoidal-contrast 1.8x45%
//     -modulate 100,95 ( -size 2016x1512 radial-gradient:white-#e4e4e4 ) -compose multiply
//     -composite -gaussian-blur 0x0.5 -unsharp 0x1.2+0.4+0.01 -seed 7 -attenuate 0.06
//     +noise Gaussian -depth 8 -sampling-factor 4:2:0 -quality 88 -strip harbour-lane.jpg
//   exiftool -overwrite_original -n -Orientation=1 -FocalLength=5.1 -FocalLengthIn35mmFormat=26
//     -DateTimeOriginal='2026:05:12 10:40:00' -CreateDate='2026:05:12 10:40:00'
//     -OffsetTimeOriginal=-05:00 -GPSLatitude=42.10 -GPSLatitudeRef=N -GPSLongitude=88.30
//     -GPSLongitudeRef=W -GPSImgDirection=33 -GPSImgDirectionRef=T -FNumber=1.8 -ISO=50
//     -ExposureTime=0.001 -ColorSpace=1 harbour-lane.jpg
// Nothing after the rendering moves a pixel, so truth.py's numbers hold for the photo.
// Declare=Quick=1 leaves out most of the grass, leaves and clods for a fast look.

#version 3.7;
#include "functions.inc"
#include "harbour-outline.inc"

#ifndef (Quick) #declare Quick = 0; #end

global_settings {
  assumed_gamma 1.0
  max_trace_level 6
  radiosity {
    pretrace_start 0.04 pretrace_end 0.01
    count 60 nearest_count 6 error_bound 0.9 low_error_factor 0.6
    recursion_limit 1 minimum_reuse 0.012 gray_threshold 0.25 brightness 1.0
    normal off media off always_sample off
  }
}

// Axes given one by one, with no look_at, so that the picture obeys truth.py's matrix exactly.
camera { perspective location CamAt direction CamForward right CamRight up CamUp }

// The sun's disc is widened a little: thin haze softens the edges of shadows.
light_source {
  SunDir * 3000, srgb <1.0, 0.955, 0.89> * 1.62
  area_light <34, 0, 0>, <0, 34, 0>, 4, 4 adaptive 1 jitter circular orient
}

#declare Swap = transform { matrix <1,0,0, 0,0,1, 0,1,0, 0,0,0> }  // POV's y up to our Z up

// Whether a ground point can be in the picture, with a margin for what stands on it.
#declare ViewF = vnormalize (<CamForward.x, CamForward.y, 0>);
#macro InView (P)
  #local ViewD = P - CamAt;
  #local ViewA = ViewD.x * ViewF.x + ViewD.y * ViewF.y;
  (ViewA > 1.3 & abs (ViewD.x * ViewF.y - ViewD.y * ViewF.x) < ViewA * 0.75 + 0.3)
#end

#include "materials.inc"
#include "sky.inc"
#include "ground.inc"
#include "library.inc"
#include "greenery.inc"
#include "street.inc"
