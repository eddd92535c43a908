import assert from 'node:assert/strict';
import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { unit as mathUnit } from 'mathjs';
import { convert, type Unit } from '../../../src/trade/units.ts';
import { holds } from '../register.ts';

/** Our units in the codes of the Unified Code for Units of Measure, with the unit to convert to. */
const ucumCodes: readonly (readonly [Unit, string, Unit, string])[] = [
  ['ft·lbf', '[ft_i].[lbf_av]', 'N·m', 'N.m'],
  ['in·lbf', '[in_i].[lbf_av]', 'N·m', 'N.m'],
  ['kgf·m', 'kgf.m', 'N·m', 'N.m'],
  ['kgf·cm', 'kgf.cm', 'N·m', 'N.m'],
  ['psi', '[psi]', 'kPa', 'kPa'],
  ['bar', 'bar', 'kPa', 'kPa'],
  ['MPa', 'MPa', 'bar', 'bar'],
  ['in', '[in_i]', 'mm', 'mm'],
  ['ft', '[ft_i]', 'm', 'm'],
  ['mile', '[mi_i]', 'km', 'km'],
  ['lbf', '[lbf_av]', 'N', 'N'],
  ['kN', 'kN', 'lbf', '[lbf_av]'],
  ['lb', '[lb_av]', 'kg', 'kg'],
  ['mph', '[mi_i]/h', 'km/h', 'km/h'],
  ['m/s', 'm/s', 'km/h', 'km/h'],
  ['lbf/in', '[lbf_av]/[in_i]', 'N/mm', 'N/mm'],
  ['°', 'deg', '′', "'"],
  ['h', 'h', 'min', 'min'],
];

const mathCodes: readonly (readonly [Unit, string, Unit, string])[] = [
  ['ft·lbf', 'lbf ft', 'N·m', 'N m'],
  ['in·lbf', 'lbf in', 'N·m', 'N m'],
  ['kgf·m', 'kgf m', 'N·m', 'N m'],
  ['in', 'in', 'mm', 'mm'],
  ['mile', 'mile', 'km', 'km'],
  ['lb', 'lbm', 'kg', 'kg'],
  ['mph', 'mi/h', 'km/h', 'km/h'],
  ['lbf', 'lbf', 'N', 'N'],
  ['bar', 'bar', 'kPa', 'kPa'],
];

const relative = (found: number, wanted: number, within: number, what: string) =>
  assert.ok(Math.abs(found / wanted - 1) <= within, `${what}: ${found}, not ${wanted}`);

const working = 'torque-convert';

export const unitChecks = [
  holds(
    {
      working,
      says: `${ucumCodes.length} conversions agree with an independent unit library to 4e-15`,
      source: 'npm @lhncbc/ucum-lhc 7.1.10 (UCUM tables), run',
      mark: 'computed',
    },
    () => {
      const oracle = UcumLhcUtils.getInstance();
      for (const [from, fromCode, to, toCode] of ucumCodes) {
        const answer = oracle.convertUnitTo(fromCode, 37.5, toCode);
        assert.equal(answer.status, 'succeeded', `${fromCode} to ${toCode}`);
        relative(convert(37.5, from, to), answer.toVal ?? Number.NaN, 4e-15, `${from} to ${to}`);
      }
    },
  ),
  holds(
    {
      working,
      says: `${mathCodes.length} conversions agree with a second unit library to 4e-15`,
      source: 'npm mathjs 15.2.0, run',
      mark: 'computed',
    },
    () => {
      for (const [from, fromCode, to, toCode] of mathCodes)
        relative(
          convert(37.5, from, to),
          mathUnit(37.5, fromCode).toNumber(toCode),
          4e-15,
          `${from} to ${to}`,
        );
    },
  ),
  holds(
    {
      working,
      says: 'psi agrees with the second library only to 1e-10: its factor is rounded, the definition is not',
      source: 'npm mathjs 15.2.0, run; psi = lbf / in² by definition',
      mark: 'computed',
    },
    () => {
      relative(convert(1, 'psi', 'kPa'), mathUnit(1, 'psi').toNumber('kPa'), 1e-10, 'psi');
      relative(
        convert(1, 'psi', 'kPa'),
        (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000,
        4e-16,
        'psi by definition',
      );
    },
  ),
];
