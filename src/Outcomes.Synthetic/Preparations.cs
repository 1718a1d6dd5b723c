using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

internal static class Preparations
{
    public static Preparation Draw(Randomizer draw, Patient patient, Plant? plant)
    {
        var arrest = patient.ArrestBefore;
        var checklist = arrest
            ? draw.Weighted((40, "completed"), (20, "partly"), (40, "available_not_used"))
            : draw.Weighted((74, "completed"), (13, "partly"), (10, "available_not_used"), (3, "not_available"));
        var done = checklist == "completed";
        var (position, headUp) = arrest ? ("supine_flat", 0) : Position(draw);
        var method = arrest ? ImmutableArray.Create("bvm_assisted") : PreoxMethod(draw);
        var seconds = arrest
            ? draw.Int(1, 4) * 30
            : draw.Weighted((6, 60), (4, 90), (14, 120), (6, 150), (40, 180), (8, 210), (12, 240), (10, 300));
        return new Preparation(
            Checklist: checklist,
            // A completed checklist includes the brief: the records without one are those without the other.
            TeamBrief: done || draw.Chance(500),
            RolesAllocated: draw.Chance(done ? 950 : 550),
            PlansSpoken: PlansSpoken(draw, done),
            Membrane: draw.Weighted((50, "palpated"), (6, "ultrasound_marked"), (4, "sought_not_found"), (40, "not_done")),
            FonaKitReady: plant == Plant.FrontOfNeck || draw.Chance(820),
            Position: position,
            HeadUpDeg: headUp,
            PreoxMethod: method,
            PreoxSeconds: seconds,
            EtO2: Math.Min(95, 66 + (Math.Min(seconds, 240) / 12) + draw.Int(-4, 8)),
            ApnoeicOxygen: draw.Chance(550),
            InductionAgent: arrest
                ? "none"
                : draw.Weighted((50, "ketamine"), (34, "propofol"), (6, "etomidate"), (3, "thiopental"), (7, "midazolam")),
            Relaxant: arrest ? "none" : draw.Weighted((86, "rocuronium"), (14, "suxamethonium")),
            Sequence: arrest ? "no_drugs" : draw.Weighted((62, "rsi"), (30, "modified"), (8, "delayed_sequence")));
    }

    private static (string Position, int HeadUpDeg) Position(Randomizer draw) => draw.Weighted(
        (24, ("ramped", 25)), (20, ("head_up", 20)), (22, ("head_up", 30)), (4, ("sitting", 60)), (20, ("sniffing_flat", 0)),
        (10, ("supine_flat", 0)));

    private static ImmutableArray<string> PreoxMethod(Randomizer draw) => draw.Weighted<ImmutableArray<string>>(
        (20, ["non_rebreather"]), (30, ["tight_facemask_circuit"]), (18, ["niv_or_cpap"]), (14, ["hfno"]), (8, ["bvm_assisted"]),
        (10, ["tight_facemask_circuit", "hfno"]));

    private static ImmutableArray<string> PlansSpoken(Randomizer draw, bool checklistDone) => checklistDone
        ? draw.Weighted<ImmutableArray<string>>((72, ["A", "B", "C", "D"]), (18, ["A", "B", "C"]), (10, ["A", "B"]))
        : draw.Weighted<ImmutableArray<string>>((30, ["A", "B", "C", "D"]), (20, ["A", "B", "C"]), (25, ["A", "B"]),
            (15, ["A"]), (10, ["none"]));
}
