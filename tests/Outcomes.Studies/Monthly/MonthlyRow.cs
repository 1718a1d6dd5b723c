using System.Globalization;

namespace Outcomes.Studies.Monthly;

/// <summary>One figure of the study: how many departments, of how many.</summary>
/// <param name="Part">The table it belongs to.</param>
/// <param name="Volume">Mean cases a month.</param>
/// <param name="History">Months of history; for a comparison the months before and after, such as 12+6.</param>
/// <param name="Correlation">Intraclass correlation of the cases of a month.</param>
/// <param name="Test">Which test or interval.</param>
/// <param name="Figure">What is true, and what is counted.</param>
/// <param name="Count">How many.</param>
/// <param name="Of">Of how many.</param>
/// <param name="Seed">The seed of these departments.</param>
internal sealed record MonthlyRow(
    string Part, double Volume, string History, double Correlation, string Test, string Figure, int Count, int Of, ulong Seed)
{
    public const string Header = "part,volume,history,correlation,test,figure,count,of,seed";

    public string Line => string.Create(CultureInfo.InvariantCulture,
        $"{Part},{Volume},{History},{Correlation},{Test},{Figure},{Count},{Of},{Seed}");

    public double Share => Of == 0 ? double.NaN : (double)Count / Of;

    /// <summary>The binomial standard error.</summary>
    public double Error => ErrorOf(Share, Of);

    public static double ErrorOf(double share, int departments) =>
        departments == 0 ? double.NaN : Math.Sqrt(share * (1 - share) / departments);

    public static MonthlyRow Parse(string line)
    {
        var cells = line.Split(',');
        double Number(int cell) => double.Parse(cells[cell], CultureInfo.InvariantCulture);
        int Whole(int cell) => int.Parse(cells[cell], CultureInfo.InvariantCulture);
        return new(cells[0], Number(1), cells[2], Number(3), cells[4], cells[5], Whole(6), Whole(7),
            ulong.Parse(cells[8], CultureInfo.InvariantCulture));
    }
}
