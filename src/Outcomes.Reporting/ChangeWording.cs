using System.Globalization;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a comparison before and after a declared change says, and what it cannot rule out.</summary>
public static class ChangeWording
{
    /// <summary>Percentage points with a sign: <c>+11.2</c>, <c>−0.4</c>.</summary>
    public static string Points(double difference) =>
        (difference < 0 ? "−" : difference > 0 ? "+" : "") + Math.Abs(difference * 100).ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>The difference with its interval.</summary>
    public static string Difference(DifferenceEstimate difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return $"{Points(difference.Value)}{Wording.Space}percentage points ({Points(difference.Lower)}{Wording.Space}to{Wording.Space}{Points(difference.Upper)})";
    }

    /// <summary>One paragraph: what was seen, and what it does not show.</summary>
    public static string Said(ChangeEvaluation evaluation)
    {
        ArgumentNullException.ThrowIfNull(evaluation);
        if (evaluation.After is null)
            return "No whole month has passed since: it cannot be judged yet.";
        if (evaluation.Difference is not { } difference)
            return "One side has no eligible record: there is nothing to compare.";
        var up = evaluation.Change.Expect == Direction.Up;
        if (difference.Lower <= 0 && difference.Upper >= 0)
            return $"Cannot tell: anything from {Points(difference.Lower)} to {Points(difference.Upper)} percentage points fits these numbers, no change included. That is not evidence that nothing changed.";
        var asExpected = difference.Value > 0 == up;
        return (asExpected ? "It moved the way that was expected, by more than chance easily explains. " : "It moved against what was expected, by more than chance easily explains. ") +
            "That does not show that this change did it: other patients, other staff, another way of recording, or a trend that was already under way would look the same.";
    }
}
