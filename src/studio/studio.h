/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The studio's entry. */
#pragma once

/* Runs the GTK program; returns its exit status. @argv may name designs and photos to open. */
int bl_studio_run (int argc, char **argv);
