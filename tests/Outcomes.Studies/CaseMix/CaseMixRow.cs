using System.Globalization;

namespace Outcomes.Studies.CaseMix;

/// <summary>One figure of the study of case mix: how many departments (or intervals), of how many.</summary>
/// <param name="Part">The table it belongs to.</param>
/// <param name="Cell">The kind of department.</param>
/// <param name="Test">The monthly test and its limit, or the interval's level.</param>
/// <param name="Rule">What decides.</param>
/// <param name="Figure">What is counted.</param>
/// <param name="Count">How many.</param>
/// <param name="Of">Of how many.</param>
/// <param name="Seed">The seed of these departments.</param>
internal sealed record CaseMixRow(
    string Part, string Cell, string Test, string Rule, string Figure, int Count, int Of, ulong Seed)
{
    public const string Header = "part,cell,test,rule,figure,count,of,seed";

    public string Line => string.Create(CultureInfo.InvariantCulture, $"{Part},{Cell},{Test},{Rule},{Figure},{Count},{Of},{Seed}");

    public double Share => Of == 0 ? double.NaN : (double)Count / Of;

    /// <summary>The binomial standard error.</summary>
    public double Error => Of == 0 ? double.NaN : Math.Sqrt(Share * (1 - Share) / Of);

    public static CaseMixRow Parse(string line)
    {
        var cells = line.Split(',');
        return new(cells[0], cells[1], cells[2], cells[3], cells[4], int.Parse(cells[5], CultureInfo.InvariantCulture),
            int.Parse(cells[6], CultureInfo.InvariantCulture), ulong.Parse(cells[7], CultureInfo.InvariantCulture));
    }
}
