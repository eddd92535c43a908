/*
 * A second model of the chain, kept apart from the code under test: shafts as coordinates, tangent points
 * found by turning vectors, the free run as a triangle solved by bisection.
 */

type Point = readonly [number, number];

const distance = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Chain length in pitches round sprockets `apart` pitches from each other. */
export function beltLength(front: number, rear: number, apart: number): number {
  const radius = (teeth: number) => 0.5 / Math.sin(Math.PI / teeth);
  const [r, s] = [radius(front), radius(rear)];
  const [a, b]: [Point, Point] = [
    [0, 0],
    [apart, 0],
  ];
  // The upper tangent touches both circles where the same unit normal leaves the centres.
  const x = (r - s) / apart;
  const normal: Point = [x, Math.sqrt(1 - x * x)];
  const from: Point = [a[0] + r * normal[0], a[1] + r * normal[1]];
  const to: Point = [b[0] + s * normal[0], b[1] + s * normal[1]];
  const upper = Math.atan2(normal[1], normal[0]);
  const frontWrap = 2 * Math.PI - 2 * upper;
  const rearWrap = 2 * upper;
  return 2 * distance(from, to) + (front * frontWrap) / (2 * Math.PI) + (rear * rearWrap) / (2 * Math.PI);
}

export interface Arm {
  readonly pivotToFront: number;
  readonly pivotToAxle: number;
  readonly restAngle: number;
  readonly leastSlack: number;
  readonly pitch: number;
  readonly front: number;
  readonly rear: number;
}

/** Slack at rest, mm, that leaves `leastSlack` with the shafts in line. */
export function slackByBisection(arm: Arm): number {
  const axle = (degrees: number): Point => {
    const turn = (degrees * Math.PI) / 180;
    return [arm.pivotToFront + arm.pivotToAxle * Math.cos(turn), arm.pivotToAxle * Math.sin(turn)];
  };
  const inLine = distance([0, 0], axle(0));
  const rest = distance([0, 0], axle(arm.restAngle));
  const taut = (centre: number) => beltLength(arm.front, arm.rear, centre / arm.pitch) * arm.pitch;
  const run = (centre: number) => {
    const difference =
      (0.5 * arm.pitch) / Math.sin(Math.PI / arm.rear) - (0.5 * arm.pitch) / Math.sin(Math.PI / arm.front);
    return Math.sqrt(centre * centre - difference * difference);
  };
  const bent = (centre: number, slack: number) =>
    2 * distance([0, 0], [run(centre) / 2, slack / 2]) - run(centre);
  const total = taut(inLine) + bent(inLine, arm.leastSlack);
  let [low, high] = [0, 1000];
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2;
    if (taut(rest) + bent(rest, middle) < total) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
