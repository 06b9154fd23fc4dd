// SPDX-License-Identifier: GPL-3.0-or-later
// What a biofilter has proven: nitrogen that two ammonia readings and what was recorded between
// them show to be gone. Exact mass balance; a lower bound, since what fish and food gave off
// meanwhile is not counted unless it is named.
//
// Food into ammonia: N = food * protein * 0.092 (the textbook balance of recirculating systems,
// value from memory).
#ifndef LZQ_BIOFILTER_H
#define LZQ_BIOFILTER_H

#include <stdbool.h>

#define LZQ_FOOD_N 0.092 // g of ammonia nitrogen from 1 g of protein fed

// Two readings prove a rate only when they lie between so many hours apart: sooner it is lost in
// the error of the test, later nobody knows when it ran out. House rule, no source.
#define LZQ_PROOF_LEAST_H 4.0
#define LZQ_PROOF_MOST_H  72.0

// mg of nitrogen a day that went between two readings: carried = what the first reading, doses and
// changes since would have made of it, mg/L; read = the second; given_mg = nitrogen that came in
// besides. 0 where nothing is proven.
double lzq_biofilter_proven(double carried_mg_l, double read_mg_l, double volume_l, double given_mg,
                            double hours);

// mg of ammonia nitrogen that so much food brings, and food for so much nitrogen. protein 0..1.
double lzq_food_nitrogen_mg(double food_g, double protein);
double lzq_food_for_nitrogen_g(double nitrogen_mg, double protein);

#endif
