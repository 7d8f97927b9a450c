"""Contact pressures of rings by axisymmetric finite elements, to hold the closed forms against.

Run once, by hand: python press_fit.py > press_fit.csv
Recorded with Python 3.11, scikit-fem 12.0.2, scipy 1.17.1, numpy 2.4.6. No random numbers.

Each ring is meshed in its (r, z) half section with quadratic quadrilaterals, its lower end on a smooth floor and its
upper end free. A unit pressure on its inner or outer face gives its compliance there; the pressure that takes up
the interference follows from two compliances. Hoop stress is E-law on the displacement at the face.
"""

import numpy as np
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, FacetBasis, LinearForm, MeshQuad, condense, solve

LENGTH = 40.0


def ring(inside, outside, elastic, poisson):
    """Radial displacement of both faces, at mid length, under unit pressure inside and outside."""
    a, b = inside / 2.0, outside / 2.0
    mesh = MeshQuad.init_tensor(np.linspace(a, b, 25), np.linspace(0.0, LENGTH, 17))
    element = ElementVector(ElementQuad2())
    basis = Basis(mesh, element)
    lam = elastic * poisson / ((1 + poisson) * (1 - 2 * poisson))
    mu = elastic / (2 * (1 + poisson))

    @BilinearForm
    def stiffness(u, v, w):
        r = w.x[0]
        def strain(f):
            return f.grad[0][0], f.value[0] / r, f.grad[1][1], f.grad[0][1] + f.grad[1][0]
        ur, ut, uz, us = strain(u)
        vr, vt, vz, vs = strain(v)
        trace = ur + ut + uz
        return (lam * trace * (vr + vt + vz) + 2 * mu * (ur * vr + ut * vt + uz * vz) + mu * us * vs) * r

    @LinearForm
    def push(v, w):
        return v.value[0] * w.x[0]

    K = stiffness.assemble(basis)
    faces = {"in": mesh.facets_satisfying(lambda x: np.abs(x[0] - a) < 1e-9),
             "out": mesh.facets_satisfying(lambda x: np.abs(x[0] - b) < 1e-9)}
    floor = basis.get_dofs(mesh.facets_satisfying(lambda x: np.abs(x[1]) < 1e-9)).all("u^2")
    dofs = {k: basis.get_dofs(f).all("u^1") for k, f in faces.items()}
    result = {}
    for load, sign in (("in", 1.0), ("out", -1.0)):
        f = sign * push.assemble(FacetBasis(mesh, element, facets=faces[load]))
        u = solve(*condense(K, f, D=floor))
        for face in ("in", "out"):
            result[load, face] = float(np.mean(u[dofs[face]]))
    return result


def contact(inner, outer, interference):
    """Pressure and hoop stresses of two rings given as (inside, outside, E, nu)."""
    i, o = ring(*inner), ring(*outer)
    p = interference / 2.0 / (o["in", "in"] - i["out", "out"])
    hoop_outer = outer[2] * p * o["in", "in"] / (outer[0] / 2.0) + outer[3] * (-p)
    hoop_inner = inner[2] * p * i["out", "out"] / (inner[1] / 2.0) + inner[3] * (-p)
    return p, hoop_outer, hoop_inner, 2 * p * o["in", "out"], 2 * p * i["out", "in"]


CASES = [
    ("iron sleeve in aluminium", (89.0, 94.0, 110e3, 0.26), (94.0, 110.0, 72e3, 0.33), 0.05),
    ("ductile sleeve 98.4/105 in aluminium 5 mm thick", (98.4, 105.0, 170e3, 0.275), (105.0, 115.0, 71e3, 0.33), 0.05),
    ("lower register of the sample", (81.5, 88.57, 170e3, 0.275), (88.57, 102.0, 71e3, 0.33), 0.03),
    ("bronze in steel, inches as mm", (50.8, 63.5, 117.211e3, 0.27), (63.5, 88.9, 206.843e3, 0.27), 0.08128),
]

if __name__ == "__main__":
    print("case,inner_inside_mm,interface_mm,outer_outside_mm,inner_e_mpa,inner_nu,outer_e_mpa,outer_nu,"
          "interference_mm,pressure_mpa,outer_hoop_mpa,inner_hoop_mpa,outside_growth_mm,bore_growth_mm")
    for name, inner, outer, interference in CASES:
        p, ho, hi, growth, closure = contact(inner, outer, interference)
        print(f'"{name}",{inner[0]},{inner[1]},{outer[1]},{inner[2]},{inner[3]},{outer[2]},{outer[3]},{interference},'
              f"{p:.7f},{ho:.6f},{hi:.6f},{growth:.9f},{closure:.9f}")
