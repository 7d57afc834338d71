/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pinhole camera above level (or evenly sloping) ground, and ground to pixel both ways. */
#pragma once

#include "geometry/point.h"

/* Order of the parameters in vectors and covariances. */
enum
{
  BL_CAM_FOCAL,   /* log of the focal length in pixels */
  BL_CAM_PITCH,   /* radians below the horizon (looking down is positive) */
  BL_CAM_ROLL,    /* radians; positive turns the picture's horizon clockwise */
  BL_CAM_HEIGHT,  /* log of the height above the ground, metres */
  BL_CAM_K1,      /* radial term, see below */
  BL_CAM_X,       /* plan position of the lens, metres */
  BL_CAM_Y,
  BL_CAM_HEADING, /* radians clockwise from plan +y */
  BL_CAM_CX,      /* principal point, pixels */
  BL_CAM_CY,
  BL_CAM_N
};

/* Pixel (0,0) is the outer corner of the top left pixel. With (u, v) the undistorted offset from
 * the picture's centre in units of the focal length and r² = u² + v², the seen offset is
 * (u, v)(1 + k1 r²). The picture bends about its centre; where the optical axis meets it (cx, cy) is
 * solved apart, so that an axis found far off does not drag the bending with it.
 * Plan x right, y away; without surveyed coordinates the camera stands over (0, 0) and looks
 * along +y. The ground is z = 0; on evenly sloping ground plan coordinates lie in its surface and
 * @slope, @slope_direction turn "upright" away from the ground's normal. */
typedef struct
{
  int width, height;      /* pixels of the upright photo */
  double focal;           /* pixels */
  double pitch, roll;     /* radians */
  double eye;             /* lens above the ground, metres */
  double k1;
  double x, y, heading;   /* position and heading in the plan */
  double cx, cy;          /* principal point, pixels */
  double slope;           /* fall of the ground, rise/run (0 = level); areas are of the surface */
  double slope_direction; /* radians clockwise from +y: the way down */
  gboolean solved;        /* FALSE: no known yet, nothing can be measured */
  gboolean scaled;        /* FALSE: shape only, no length known */
  double cov[BL_CAM_N * BL_CAM_N]; /* row major, of the parameters above; 0 for fixed ones */
} BlCamera;

/* A direction or place seen from the lens: x right, y down, z along the optical axis. */
typedef struct
{
  double x, y, z;
} BlRay;

/* A camera with everything plausible and nothing solved: 26 mm equivalent, 1.5 m, looking 10° down. */
void bl_camera_init (BlCamera *camera, int width, int height);
/* Focal length in pixels of a 35 mm equivalent: by the picture's diagonal, 43.267 mm (the
 * convention of CIPA DCG-001; makers differ by up to 4 %). */
double bl_focal_from_35mm (double f35, int width, int height);

/* Ground point (plan metres, @z metres above the ground) to pixel. FALSE when behind the camera
 * or beyond the lens model. */
gboolean bl_camera_project (const BlCamera *camera, double x, double y, double z, BlPoint *px);
/* Pixel to ground point. FALSE at or above the horizon. */
gboolean bl_camera_to_ground (const BlCamera *camera, BlPoint px, BlPoint *ground);
/* Metres per pixel across the view at a ground point (the length that spans one pixel, upright). */
double bl_camera_metres_per_pixel (const BlCamera *camera, BlPoint ground);
/* Two pixels on the level horizon at the picture's left and right edge (undistorted). On sloping
 * ground this is the horizon of a level plane, not the vanishing line of the slope. */
void bl_camera_horizon (const BlCamera *camera, BlPoint *left, BlPoint *right);
/* The height (metres) whose top over ground point @base is seen at @top_px; NAN if undefined. */
double bl_camera_height_at (const BlCamera *camera, BlPoint base, BlPoint top_px);
/* Cuts a ground polygon (open ring) at @near_metres before the camera, so that every vertex can be
 * projected; the result may be empty. */
BlPoints *bl_camera_clip_ground (const BlCamera *camera, const BlPoints *ring, double near_metres);
gboolean bl_camera_equal (const BlCamera *a, const BlCamera *b);

/* The parts the solver works with. */
void bl_camera_get_params (const BlCamera *camera, double *params);
void bl_camera_set_params (BlCamera *camera, const double *params);
/* The plane's normal and the true upright as seen from the lens (unit vectors). */
BlRay bl_camera_normal (const BlCamera *camera);
BlRay bl_camera_upright (const BlCamera *camera);
/* Pitch and roll of a camera that sees the ground's normal along @normal. */
void bl_camera_set_normal (BlCamera *camera, BlRay normal);
/* A point of the plan as seen from the lens, metres. */
BlRay bl_camera_view (const BlCamera *camera, double x, double y, double z);
/* A point seen from the lens to a pixel; FALSE behind it or beyond the lens model. */
gboolean bl_camera_see (const BlCamera *camera, BlRay ray, BlPoint *px);
/* Undistorts: the ray (z = 1) through a pixel. FALSE beyond the lens model. */
gboolean bl_camera_ray (const BlCamera *camera, BlPoint px, BlRay *ray);
