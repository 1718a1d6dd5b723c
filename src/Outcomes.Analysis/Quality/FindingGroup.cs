using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// The findings of one rule that say the same: a range or unit belongs to its column, so columns with others stand apart.
/// </summary>
/// <param name="Rule">The rule's id.</param>
/// <param name="Severity">What it does to the data.</param>
/// <param name="Findings">How often it fired.</param>
/// <param name="Columns">The columns it fired in, in ordinal order; empty when it concerns rows or files.</param>
/// <param name="Explanation">What is wrong and what to do.</param>
public sealed record FindingGroup(string Rule, Severity Severity, long Findings, ImmutableArray<string> Columns, string Explanation)
{
    /// <summary>Findings by rule, severity and explanation, the worst first: by severity, then by number.</summary>
    public static ImmutableArray<FindingGroup> Of(IEnumerable<Finding> findings) =>
    [
        .. findings.GroupBy(finding => (finding.Rule, finding.Severity, finding.Explanation))
            .Select(group => new FindingGroup(group.Key.Rule, group.Key.Severity, group.LongCount(),
                [.. group.Select(finding => finding.Column).Where(column => column.Length > 0).Distinct().Order(StringComparer.Ordinal)],
                group.Key.Explanation))
            .OrderByDescending(group => group.Severity).ThenByDescending(group => group.Findings)
            .ThenBy(group => group.Rule, StringComparer.Ordinal).ThenBy(group => group.Explanation, StringComparer.Ordinal),
    ];
}
