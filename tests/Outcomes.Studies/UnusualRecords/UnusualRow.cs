using System.Globalization;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>One figure of the study: how many, of how many.</summary>
/// <param name="Part">The table it belongs to.</param>
/// <param name="Export">Which columns the department collects.</param>
/// <param name="Records">Records a department.</param>
/// <param name="Kind">The slip, or all of them.</param>
/// <param name="Figure">What is counted.</param>
/// <param name="Count">How many.</param>
/// <param name="Of">Of how many.</param>
internal sealed record UnusualRow(string Part, string Export, int Records, string Kind, string Figure, int Count, int Of)
{
    public const string Header = "part,export,records,kind,figure,count,of";

    public string Line => string.Create(CultureInfo.InvariantCulture, $"{Part},{Export},{Records},{Kind},{Figure},{Count},{Of}");

    public double Share => Of == 0 ? double.NaN : (double)Count / Of;

    /// <summary>The binomial standard error.</summary>
    public double Error => Of == 0 ? double.NaN : Math.Sqrt(Share * (1 - Share) / Of);

    public static UnusualRow Parse(string line)
    {
        var cells = line.Split(',');
        return new(cells[0], cells[1], int.Parse(cells[2], CultureInfo.InvariantCulture), cells[3], cells[4],
            int.Parse(cells[5], CultureInfo.InvariantCulture), int.Parse(cells[6], CultureInfo.InvariantCulture));
    }
}
