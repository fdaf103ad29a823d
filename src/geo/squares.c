#include "geo/squares.h"

#define DEGREE 0.017453292519943295 /* rad */

/* WGS 84: NIMA TR8350.2, table 3.1; the mean radius is (2 a + b) / 3. */
static const double semi_major = 6378137.0;
static const double eccentricity_squared = 6.69437999014e-3;
static const double mean_radius = 6371008.8;

/* Parallels whose lengths differ by less have as many columns. */
static const double length_step = 0.016;

static double row_height(double side)
{
    return side / (mean_radius * DEGREE);
}

static int column_count(double side, int row)
{
    double latitude = fmin(-90 + (row + 0.5) * row_height(side), 89.99) * DEGREE;
    double sine = sin(latitude);
    double radius = cos(latitude) / sqrt(1 - eccentricity_squared * sine * sine);
    double stepped = exp(round(log(radius) / length_step) * length_step);

    return (int)fmax(1, round(360 * DEGREE * semi_major * stepped / side));
}

struct square square_at(double side, struct point lonlat)
{
    struct square square = {.row = (int)floor((lonlat.y + 90) / row_height(side))};
    int columns = column_count(side, square.row);
    double turn = (lonlat.x + 180) / 360;

    square.column = (int)((turn - floor(turn)) * columns);
    return square;
}

struct box square_box(double side, struct square square)
{
    double height = row_height(side);
    double width = 360.0 / column_count(side, square.row);

    return (struct box){.min_x = -180 + square.column * width,
                        .max_x = -180 + (square.column + 1) * width,
                        .min_y = -90 + square.row * height,
                        .max_y = fmin(-90 + (square.row + 1) * height, 90)};
}
