using System.Collections.Immutable;
using System.Globalization;

namespace Outcomes.Studies.Monthly;

/// <summary>One figure of the study of other conditions: how many departments, of how many; or one count a history.</summary>
/// <param name="Part">The table it belongs to.</param>
/// <param name="Volume">Mean cases a month.</param>
/// <param name="History">Months of history.</param>
/// <param name="Correlation">Intraclass correlation of the cases of a month.</param>
/// <param name="Condition">In what these departments differ from those of the main study.</param>
/// <param name="Figure">The rate of the measure, or what is true.</param>
/// <param name="Counts">How many; by department one number a history.</param>
/// <param name="Of">Of how many, each.</param>
/// <param name="Seed">The seed of these departments.</param>
internal sealed record ConditionRow(
    string Part, double Volume, int History, double Correlation, string Condition, string Figure, ImmutableArray<int> Counts, int Of,
    ulong Seed)
{
    public const string Header = "part,volume,history,correlation,condition,figure,counts,of,seed";

    public string Line => string.Create(CultureInfo.InvariantCulture,
        $"{Part},{Volume},{History},{Correlation},{Condition},{Figure},{string.Join(' ', Counts)},{Of},{Seed}");

    public double Share => Of == 0 ? double.NaN : (double)Counts.Single() / Of;

    public static ConditionRow Parse(string line)
    {
        var cells = line.Split(',');
        double Number(int cell) => double.Parse(cells[cell], CultureInfo.InvariantCulture);
        static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);
        return new(cells[0], Number(1), Whole(cells[2]), Number(3), cells[4], cells[5], [.. cells[6].Split(' ').Select(Whole)],
            Whole(cells[7]), ulong.Parse(cells[8], CultureInfo.InvariantCulture));
    }
}
