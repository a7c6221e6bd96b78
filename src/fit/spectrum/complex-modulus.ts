import { atan2, cos, sin } from "../../numeric/elementary/angle.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";

/** M* = M′ + iM″. */
export interface ComplexModulus {
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

const sizeSquared = ({ storageModulus_Pa, lossModulus_Pa }: ComplexModulus) =>
  square(storageModulus_Pa) + square(lossModulus_Pa);

/** M* to a real power, which is no modulus in Pa. */
export function complexPower(modulus: ComplexModulus, exponent: number): ComplexModulus {
  const size = exp(0.5 * exponent * ln(sizeSquared(modulus)));
  const angle = exponent * atan2(modulus.lossModulus_Pa, modulus.storageModulus_Pa);
  return { storageModulus_Pa: size * cos(angle), lossModulus_Pa: size * sin(angle) };
}

/** ln |M*| and the phase angle in radians. */
export function complexLog(modulus: ComplexModulus): { re: number; im: number } {
  return {
    re: 0.5 * ln(sizeSquared(modulus)),
    im: atan2(modulus.lossModulus_Pa, modulus.storageModulus_Pa),
  };
}

export function complexQuotient(a: ComplexModulus, b: ComplexModulus): ComplexModulus {
  const size = sizeSquared(b);
  return {
    storageModulus_Pa:
      (a.storageModulus_Pa * b.storageModulus_Pa + a.lossModulus_Pa * b.lossModulus_Pa) / size,
    lossModulus_Pa: (a.lossModulus_Pa * b.storageModulus_Pa - a.storageModulus_Pa * b.lossModulus_Pa) / size,
  };
}

export const complexSum = (a: ComplexModulus, b: ComplexModulus): ComplexModulus => ({
  storageModulus_Pa: a.storageModulus_Pa + b.storageModulus_Pa,
  lossModulus_Pa: a.lossModulus_Pa + b.lossModulus_Pa,
});
