using System.Globalization;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>
/// A slip of typing: what it is called, and how it changes a row; the fields it changed, or null where it could not be made.
/// </summary>
internal sealed record Slip(string Name, Func<ExportTable, List<string>, Draws, string[]?> Plant);

/// <summary>The slips that the study plants. None leaves a value outside its plausible range: reading finds those by itself.</summary>
internal static class Slips
{
    private sealed record Place(string Field, string Heading, double Least, double Most);

    // Plausible ranges of the dictionary; seconds where the export has seconds.
    private static readonly Place[] Saturations =
    [
        new("spo2_pre", "SpO2 before", 70, 100), new("spo2_min", "SpO2 lowest", 70, 100), new("spo2_at_2min", "SpO2 after 2 min", 70, 100)
    ];
    private static readonly Place[] Pressures =
        [
            new("sbp_pre", "Systolic before", 60, 220), new("sbp_min", "Systolic lowest", 60, 220), new("map_pre", "Mean before", 40, 150),
            new("map_min", "Mean lowest", 40, 150)
        ];
    private static readonly Place Weight = new("weight_kg", "Weight (kg)", 35, 200), Height = new("height_cm", "Height (cm)", 130, 210);
    private static readonly Place[] Times =
        [
            new("t_first_blade_s", "First laryngoscopy (s)", 0, 600), new("t_tube_confirmed_s", "Airway confirmed (s)", 0, 600),
            new("preox_min", "Preoxygenation (s)", 0, 900)
        ];
    private static readonly Place[] Doses =
        [
            new("ketamine_mg", "Ketamine (mg)", 10, 400), new("propofol_mg", "Propofol (mg)", 10, 400),
            new("rocuronium_mg", "Rocuronium (mg)", 15, 250)
        ];
    private static readonly Place[] Gases = [new("lactate_pre", "Lactate", 0, 20), new("ph_pre", "pH", 6.9, 7.6)];

    public static Slip[] All { get; } =
    [
        new("digits swapped: saturation", (table, row, draw) => One(table, row, draw, Saturations, SwapDigits)),
        new("digits swapped: pressure", (table, row, draw) => One(table, row, draw, Pressures, SwapDigits)),
        new("digits swapped: weight", (table, row, draw) => One(table, row, draw, [Weight], SwapDigits)),
        new("digits swapped: height", (table, row, draw) => One(table, row, draw, [Height], SwapDigits)),
        new("digits swapped: time", (table, row, draw) => One(table, row, draw, Times, SwapDigits)),
        new("digits swapped: dose", (table, row, draw) => One(table, row, draw, Doses, SwapDigits)),
        new("saturation and systolic exchanged", (table, row, _) => Exchange(table, row, Saturations[0], Pressures[0])
            ?? Exchange(table, row, Saturations[1], Pressures[1])),
        new("systolic and mean exchanged", (table, row, _) => Exchange(table, row, Pressures[0], Pressures[2])),
        new("before and lowest exchanged", (table, row, _) => Exchange(table, row, Saturations[0], Saturations[1])
            ?? Exchange(table, row, Pressures[0], Pressures[1])),
        new("pounds for kilograms", (table, row, draw) => One(table, row, draw, [Weight], cell => Scaled(cell, 2.2046))),
        new("minutes for seconds: preoxygenation", (table, row, draw) => One(table, row, draw, [Times[2]], cell => Scaled(cell, 1 / 60.0))),
        new("minutes for seconds: confirmation", (table, row, draw) => One(table, row, draw, [Times[1]], cell => Scaled(cell, 1 / 60.0))),
        new("minutes for seconds: decision",
            (table, row, draw) => One(table, row, draw, [new("t_decision_s", "Decision (s)", -3600, 0)], cell => Scaled(cell, 1 / 60.0))),
        new("kPa for mmHg: mean pressure",
            (table, row, draw) => One(table, row, draw, [.. Pressures[2..]], cell => Scaled(cell, 1 / 7.50062))),
        new("decimal point moved: blood gas", (table, row, draw) => One(table, row, draw, [Gases[0]], cell => Scaled(cell, 10))),
        new("decimal point moved: dose", (table, row, draw) => One(table, row, draw, Doses, cell => Scaled(cell, 0.1))),
        new("another patient's weight", (table, row, draw) => One(table, row, draw, [Weight],
            _ => table.Cell(table.Rows[draw.Below(table.Rows.Count)], Weight.Heading))),
        new("another patient's lowest pressure", (table, row, draw) => One(table, row, draw, [Pressures[1]],
            _ => table.Cell(table.Rows[draw.Below(table.Rows.Count)], Pressures[1].Heading))),
    ];

    /// <summary>Whether the export has what the slip needs.</summary>
    public static bool IsPossible(Slip slip, bool fuller) =>
        fuller || slip.Name is not ("digits swapped: height" or "digits swapped: dose" or "systolic and mean exchanged"
            or "kPa for mmHg: mean pressure" or "decimal point moved: blood gas" or "decimal point moved: dose");

    private static string[]? One(ExportTable table, List<string> row, Draws draw, Place[] places, Func<string, string?> change)
    {
        foreach (var place in draw.Shuffle(places.Where(place => table.Has(place.Heading))))
            if (table.Number(row, place.Heading) is not null && change(table.Cell(row, place.Heading)) is { } changed
                && changed != table.Cell(row, place.Heading) && Fits(changed, place))
            {
                table.Set(row, place.Heading, changed);
                return [place.Field];
            }

        return null;
    }

    private static string[]? Exchange(ExportTable table, List<string> row, Place one, Place other)
    {
        if (!table.Has(other.Heading) || table.Number(row, one.Heading) is null || table.Number(row, other.Heading) is null)
            return null;
        var (a, b) = (table.Cell(row, one.Heading), table.Cell(row, other.Heading));
        if (a == b || !Fits(b, one) || !Fits(a, other))
            return null;
        table.Set(row, one.Heading, b);
        table.Set(row, other.Heading, a);
        return [one.Field, other.Field];
    }

    private static bool Fits(string cell, Place place) =>
        double.TryParse(cell, CultureInfo.InvariantCulture, out var value) && value >= place.Least && value <= place.Most;

    // The last pair of neighbours that differ: 165 becomes 156, 89 becomes 98.
    private static string? SwapDigits(string cell)
    {
        for (var i = cell.Length - 1; i > 0; i--)
            if (char.IsAsciiDigit(cell[i]) && char.IsAsciiDigit(cell[i - 1]) && cell[i] != cell[i - 1])
                return $"{cell[..(i - 1)]}{cell[i]}{cell[i - 1]}{cell[(i + 1)..]}";
        return null;
    }

    private static string Scaled(string cell, double factor)
    {
        var value = double.Parse(cell, CultureInfo.InvariantCulture) * factor;
        return Math.Round(value, Math.Abs(value) < 20 && factor >= 10 ? 1 : 0).ToString(CultureInfo.InvariantCulture);
    }
}
