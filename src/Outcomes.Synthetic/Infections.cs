using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Precautions where an infection was suspected or confirmed.</summary>
internal static class Infections
{
    public static Precautions Draw(Randomizer draw, DateOnly date, Patient patient)
    {
        if (patient.Infection == "not_suspected")
            return new(draw.Weighted((18, 4), (34, 5), (44, 6), (2, 7)), null, null, null);
        var (staff, buddy, breach) = (draw.Weighted((14, 3), (42, 4), (30, 5), (14, 6)), draw.Chance(820), draw.Chance(70));
        return new(staff, buddy, breach, breach ? draw.Weighted((20, "donning"), (35, "procedure"), (45, "doffing")) : null)
        {
            Sequence = date < Practice.SequenceMonth ? null : Sequence(draw),
        };
    }

    private static AirborneSequence Sequence(Randomizer draw)
    {
        var mask = draw.Chance(160);
        return new(
            CheckOutside: draw.Weighted((80, "completed"), (12, "partly"), (8, "not_done")),
            CheckInside: draw.Weighted((76, "completed"), (14, "partly"), (10, "not_done")),
            CircuitInOrder: draw.Chance(870),
            FilterFirst: draw.Chance(930),
            GasOff: draw.Chance(780),
            CuffFirst: draw.Chance(910),
            Clamped: draw.Weighted((68, "always"), (12, "not_always"), (4, "never"), (16, "no_disconnection")),
            MaskAfterRelaxant: mask,
            MaskReason: mask && draw.Chance(850) ? draw.Weighted((6, "hypoxaemia"), (3, "failed_attempt"), (1, "severe_acidosis")) : null,
            DoffingObserved: draw.Chance(700));
    }
}
