// What hurts and what to do first, worded once: under the findings and at the foot of the printed sheet.

export const SAFETY = [
  "Propellers cut; lithium batteries burn when punctured or overcharged; hot glue and blades hurt. Keep clear of people.",
  "Follow the rules of your country and field, and have an experienced flyer look it over before the first flight.",
];
