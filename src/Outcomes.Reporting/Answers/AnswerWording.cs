using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Conditions;

namespace Outcomes.Reporting.Answers;

/// <summary>What an answer says in sentences.</summary>
public static class AnswerWording
{
    /// <summary>Beside every question that is asked by looking.</summary>
    public static string Looks(int looks) =>
        $"Question {Wording.Number(looks)} today. Differences found by looking are hypotheses: test them on records that come later.";

    /// <summary>With very many records the report is only made on demand.</summary>
    public const string LacksReport =
        "The report’s verdict and its adjustment for case mix are not shown: with so many records they are made once, when a page of data "
        + "quality is opened, which takes minutes.";

    /// <summary>What stands at the foot of every printed page.</summary>
    internal static string PaperFoot(bool invented) =>
        "Department only: a question asked by looking" + (invented ? " · invented data" : "");

    /// <summary>What becomes of a saved question.</summary>
    public const string Saved = "A run answers saved questions in the appendix once the pipeline says questions: [questions].";

    /// <summary>In place of the figures of a cohort that is too small for any.</summary>
    public static readonly string TooFew =
        $"Fewer than {Wording.Number(StratumFigures.LeastRecords)} records meet the condition: too few for any figure.";

    public static readonly string NoLevels = "Groups are not shown over less than 12 months: a group could point at a person.";

    /// <summary>What the page is called.</summary>
    public static string Title(AskedQuestion asked)
    {
        ArgumentNullException.ThrowIfNull(asked);
        return asked.Definition.Title.Length > 0 ? asked.Definition.Title : asked.Measure.Title;
    }

    /// <summary>Which records a cohort holds: <c>Location: Intensive care, April 2025 to March 2026</c>.</summary>
    public static string Cohort(Cohort cohort, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(cohort);
        var who = cohort.Condition.Parts.IsEmpty ? "All records"
            : cohort.Condition.Parts.Any(part => part.Field is null) ? $"Records with {cohort.Text}"
            : string.Join("; ", cohort.Condition.Parts.Select(part => Part(part, titles)));
        return $"{who}, {Wording.Span(cohort.From, cohort.To)}";
    }

    /// <summary>One part of a condition in the words of the dictionary; as written where it is more than a field and a value.</summary>
    public static string Part(ConditionPart part, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(titles);
        if (part.Field is not { } field)
            return part.Text;
        var unit = Wording.UnitInWords(titles.Unit(field)) is { } found ? Wording.Space + found : "";
        return part.Operator switch
        {
            "is null" => $"{titles.Column(field)}: not recorded",
            "is not null" => $"{titles.Column(field)}: recorded",
            "=" => $"{titles.Column(field)}: {Value()}",
            "<>" => $"{titles.Column(field)}: not {Value()}",
            _ => $"{titles.Column(field)} {Sign(part.Operator)} {part.Value}{unit}",
        };

        string Value() => decimal.TryParse(part.Value, CultureInfo.InvariantCulture, out _) ? part.Value + unit
            : titles.Level(field, part.Value);
    }

    /// <summary>The difference of two cohorts and what it excludes; why there is none where there is none.</summary>
    public static string Difference(CohortComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        if (comparison.Shared > 0)
            return $"{Wording.Some(comparison.Shared, "record")} are in both cohorts, so they are not compared. Exclude one from the other "
                + "with “not (…)”.";
        if (comparison.Difference is not { } difference)
            return "One cohort has too few records to compare.";
        var said = difference.Lower > 0 ? "The first cohort is higher; chance is an unlikely explanation."
            : difference.Upper < 0 ? "The first cohort is lower; chance is an unlikely explanation."
            : "No clear difference.";
        return $"{said} First less second: {ChangeWording.Difference(difference)}. Excluded at 95{Wording.Space}%: differences below "
            + $"{ChangeWording.Points(difference.Lower)} and above {ChangeWording.Points(difference.Upper)} points.";
    }

    /// <summary>How many records a stated difference needs.</summary>
    public static string Needed(RecordsNeeded needed, int per)
    {
        ArgumentNullException.ThrowIfNull(needed);
        return $"To show {Wording.Rate(needed.To, per)} against {Wording.Rate(needed.From, per)} with a chance of 80 in 100 takes "
            + $"{Wording.Some(needed.PerGroup, "record")} in each of two groups: "
            + $"about {Wording.Some((long)Math.Ceiling(needed.Months), "month")} "
            + "a group at this cohort’s volume. For one planned comparison.";
    }

    /// <summary>Observed against expected.</summary>
    public static string CaseMix(ObservedExpected found, bool eventIsNotMet)
    {
        ArgumentNullException.ThrowIfNull(found);
        return found.Ratio is not { } ratio ? "Adjusted for case mix: no record to adjust."
            : $"Adjusted for case mix: {Wording.Number(found.Observed)} {(eventIsNotMet ? "not met" : "events")} "
                + $"observed, {found.Expected.ToString("0.0", CultureInfo.InvariantCulture)} expected; ratio "
                + $"{Wording.Ratio(ratio.Value, ratio.Interval.Lower, ratio.Interval.Upper)}, 1 being as expected by the baseline’s model.";
    }

    /// <summary>How the figures are made, with the publications.</summary>
    public static string Method(QuestionAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        string?[] sources =
        [
            answer.First.Figures.YearEstimate?.Source, answer.Comparison?.Difference?.Source,
            answer.Comparison is { Within.IsEmpty: false } ? Statistics.MantelHaenszel.OddsRatioSource : null,
            answer.Comparison is { Within.IsEmpty: false } ? Statistics.BreslowDay.Source : null,
            answer.Comparison?.OddsRatio?.Source, answer.Needed is null ? null : Statistics.TwoProportionPower.Source,
        ];
        return string.Join(" · ", sources.OfType<string>().Distinct());
    }

    private static string Sign(string comparison) => comparison switch
    {
        ">=" => "at least",
        "<=" => "at most",
        ">" => "above",
        "<" => "below",
        _ => comparison,
    };
}
