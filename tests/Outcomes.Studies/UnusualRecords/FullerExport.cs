using System.Globalization;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>
/// What a department records that keeps more than the invented one: height and a weight that follows it, mean pressures, pulse, doses,
/// blood gases, tube depth and the start of preoxygenation.
/// </summary>
/// <remarks>Every relation here is invented for the study, with spreads of the order that adults have; none is a norm or dosing
/// advice.</remarks>
internal static class FullerExport
{
    /// <summary>Fields, headings and the share of cells that nobody filled in.</summary>
    public static (string Field, string Heading, double Missing)[] Columns { get; } =
    [
        ("height_cm", "Height (cm)", 0.10), ("map_pre", "Mean before", 0.08), ("map_min", "Mean lowest", 0.10),
        ("hr_pre", "Pulse before", 0.05), ("ketamine_mg", "Ketamine (mg)", 0.05), ("propofol_mg", "Propofol (mg)", 0.05),
        ("rocuronium_mg", "Rocuronium (mg)", 0.05), ("lactate_pre", "Lactate", 0.35), ("ph_pre", "pH", 0.35),
        ("tube_depth_cm", "Tube depth (cm)", 0.12), ("t_preox_start_s", "Preoxygenation from (s)", 0.20),
    ];

    /// <summary>Adds the columns and lets the weight of adults follow their height.</summary>
    public static void Add(ExportTable table, Draws draw)
    {
        var drawn = table.Rows.ToDictionary(row => row, row => Draw(table, row, draw));
        foreach (var row in table.Rows)
            if (drawn[row].Weight is { } weight && table.Number(row, "Weight (kg)") is not null)
                table.Set(row, "Weight (kg)", Text(weight));
        foreach (var (_, heading, missing) in Columns)
            table.Add(heading, row => draw.Uniform() < missing ? "" : drawn[row].Cells[heading]);
    }

    private static (double? Weight, Dictionary<string, string> Cells) Draw(ExportTable table, List<string> row, Draws draw)
    {
        var cells = Columns.ToDictionary(column => column.Heading, _ => "");
        var male = table.Cell(row, "Sex") == "M";
        var height = Math.Round((male ? 176 : 163) + (7 * draw.Normal()));
        double? weight = table.Number(row, "Age (years)") is >= 16
            ? Math.Round(26.5 * height * height / 10_000 * Math.Exp(0.17 * draw.Normal()))
            : null;
        if (weight is { } kg)
        {
            cells["Height (cm)"] = Text(height);
            cells["Tube depth (cm)"] =
                Text(Math.Round(2 * ((male ? 22.5 : 20.8) + ((height - (male ? 176 : 163)) * 0.05) + (0.7 * draw.Normal()))) / 2);
            Dose("Ketamine", "Induction drug", "Ketamine (mg)", 1.4, 0.22, 10);
            Dose("Propofol", "Induction drug", "Propofol (mg)", 1.2, 0.30, 10);
            Dose("Rocuronium", "Relaxant", "Rocuronium (mg)", 1.1, 0.12, 10);

            void Dose(string drug, string column, string heading, double perKilogram, double spread, double step)
            {
                if (table.Cell(row, column) == drug)
                    cells[heading] = Text(Math.Round(kg * perKilogram * Math.Exp(spread * draw.Normal()) / step) * step);
            }
        }

        var mean = 0.70 + (0.035 * draw.Normal());
        if (table.Number(row, "Systolic before") is { } before)
        {
            cells["Mean before"] = Text(Math.Round(before * mean));
            cells["Pulse before"] = Text(Math.Round(Math.Clamp(128 - (0.22 * before) + (17 * draw.Normal()), 45, 165)));
            if (table.Number(row, "Systolic lowest") is { } lowest)
                cells["Mean lowest"] = Text(Math.Min(Math.Round(before * mean), Math.Round(lowest * (mean + (0.02 * draw.Normal())))));
        }

        var lactate = Math.Clamp(Math.Exp(0.8 + (0.6 * draw.Normal())), 0.5, 18);
        cells["Lactate"] = Math.Round(lactate, 1).ToString(CultureInfo.InvariantCulture);
        cells["pH"] = Math.Round(Math.Clamp(7.39 - (0.025 * lactate) + (0.05 * draw.Normal()), 6.9, 7.59), 2)
            .ToString(CultureInfo.InvariantCulture);
        if (table.Number(row, "Preoxygenation (s)") is { } seconds)
            cells["Preoxygenation from (s)"] = Text(-Math.Round(seconds + Math.Clamp(15 * draw.Normal(), -45, 45)));
        return (weight, cells);
    }

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);
}
