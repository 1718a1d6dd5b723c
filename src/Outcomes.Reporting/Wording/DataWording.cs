using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>What is missing in the data, in words.</summary>
public static class DataWording
{
    /// <summary>Why a measure has no figures.</summary>
    public static string WhyNot(NoFigures why, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(why);
        return why.Lacking.IsEmpty ? "no record was eligible" : $"no source collects {Names(why.Lacking, titles)}";
    }

    /// <summary>Why a rule or flag did not run.</summary>
    public static string WhyNot(RuleNotRun rule, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return $"not collected: {Names(rule.Lacking, titles)}";
    }

    private static string Names(IEnumerable<string> fields, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(titles);
        return string.Join(", ", fields.Select(titles.Column));
    }

    /// <summary>Which months are provisional, and how many records are still to come; empty without one.</summary>
    public static string Provisional(IReadOnlyList<EntryCompleteness> months)
    {
        ArgumentNullException.ThrowIfNull(months);
        if (months.Count == 0)
            return "";
        var toCome = (long)Math.Ceiling(months.Sum(month => month.ToCome));
        return $"{Wording.Span(months[0].Month, months[^1].Month)} {(months.Count == 1 ? "is" : "are")} provisional and not "
            + "tested: by the delays "
            + $"of entry so far about {Wording.Some(toCome, "procedure")} {(toCome == 1 ? "is" : "are")} still to come.";
    }

    /// <summary>Said where no field is missing often.</summary>
    public const string NothingToAsk = "No field that a figure rests on is missing in more than 5 % of the last 12 months’ records.";

    /// <summary>What became of the rows that came in: <c>518 rows in = 500 accepted + ...</c>.</summary>
    public static string Reconciled(Reconciliation total)
    {
        ArgumentNullException.ThrowIfNull(total);
        return $"{Wording.Some(total.RowsIn, "row")} in = {Wording.Number(total.Accepted)} accepted"
            + $" + {Wording.Number(total.Superseded)} superseded + {Wording.Number(total.Withdrawn)} withdrawn"
            + $" + {Wording.Number(total.Quarantined)} quarantined";
    }

    /// <summary>Whether all procedures were recorded, in a sentence or two.</summary>
    public static string Captured(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        if (model.Capture?.Year is not { Value: { } ratio } capture)
            return "Whether all procedures were recorded is not known: there is no independent count.";
        var share = capture.Interval is { } interval
            ? $" ({Wording.Rate(ratio, 100)}; {Wording.Range(interval.Lower, interval.Upper, 100)})" : "";
        return $"{Wording.Number(capture.Records)} of {Wording.Some(capture.Counted, "procedure")} counted independently "
            + $"{(capture.Counted == 1 ? "was" : "were")} recorded{share}."
            + (capture.Low ? " The figures may describe only the procedures that somebody remembered."
                : capture.High ? " More were recorded than counted: one of the two is wrong." : "");
    }

    public static string WhatIsMissing(this DataQuestion question) =>
        question.Columns.IsEmpty ? "not collected" : $"{Wording.Number(question.Missing)}/{Wording.Number(question.Of)}";

    public static string SinceWhen(this DataQuestion question) => question.Columns.IsEmpty
        ? "" : question.Since is not { } since ? "now and then" : since.FromTheStart ? "from the start" : Wording.Name(since.Month);

    /// <summary>What to ask for, in a sentence.</summary>
    public static string Ask(this DataQuestion question) =>
        question.Columns.IsEmpty ? "Ask for this column in the export, and map it."
        : question.Invalid * 2 > question.Missing ? $"{Wording.Number(question.Invalid)} cells hold something that is no value: "
            + "correct the codes or the mapping."
        : question.Since is { FromTheStart: true }
            && question.Missing == question.Of ? "The column is empty: ask whether the form still asks for it."
        : question.Since is { FromTheStart: false } since ? $"Ask what changed in the form or the export in {Wording.Name(since.Month)}."
        : question.Since is not null ? "Ask whether the form asks for it of every patient, and have it filled in at entry."
        : "Have it filled in at entry; ask those who leave it blank why.";
}
