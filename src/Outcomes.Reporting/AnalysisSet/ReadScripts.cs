using System.Text;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.AnalysisSet;

/// <summary>Scripts that load the analysis set, label it and print the headline table of the report.</summary>
public static class ReadScripts
{
    public const string Python = "read.py";

    public const string R = "read.R";

    /// <summary>Each script with its name, for the report of a month.</summary>
    public static IEnumerable<(string Name, byte[] Text)> Of(AnalysisHead head)
    {
        ArgumentNullException.ThrowIfNull(head);
        return new[] { Python, R }.Select(name => (name, Encoding.UTF8.GetBytes(EmbeddedFile.Text(name)
            .Replace("@MONTH@", $"{head.Month}", StringComparison.Ordinal)
            .Replace("@FROM@", $"{head.YearFrom}", StringComparison.Ordinal))));
    }
}
