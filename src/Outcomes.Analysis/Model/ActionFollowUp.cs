using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// The measure of an action before it was decided and after it was closed, as counts, with their difference for context. It judges nothing:
/// a department chooses its actions by what it has just seen, so a rate that was high by chance falls back by itself, action or not.
/// Whether a measure changed is said by its <see cref="Verdict"/> alone.
/// </summary>
/// <param name="Action">The action.</param>
/// <param name="Measure">Its measure, a proportion.</param>
/// <param name="Before">Whole months before it was decided, at most six; null where there is none.</param>
/// <param name="BeforeCount">Their count.</param>
/// <param name="After">Whole months since it was closed, at most six; null while it is open or there is none.</param>
/// <param name="AfterCount">Their count.</param>
public sealed record ActionFollowUp(
    DepartmentAction Action, Measure Measure, (Month From, Month To)? Before, Count BeforeCount, (Month From, Month To)? After,
    Count AfterCount)
{
    /// <summary>Months on either side.</summary>
    public const int Months = 6;

    /// <summary>
    /// After minus before with its interval, by the method that compares two groups everywhere else in a report; null where a side has no
    /// eligible record.
    /// </summary>
    public DifferenceEstimate? Difference => Statistics.Difference.Newcombe(AfterCount, BeforeCount);

    /// <summary>
    /// One an action that names a proportion with figures, open ones first: those open on the report's date, and those closed until six
    /// months have passed.
    /// </summary>
    public static ImmutableArray<ActionFollowUp> Follow(DepartmentCounts department)
    {
        ArgumentNullException.ThrowIfNull(department);
        var (plan, book, last) = (department.Plan, department.Book, department.LastComplete);
        return
        [
            .. plan.Actions.Where(action => action.Opened <= plan.AsOf)
                .Select(action => action with { Closed = action.Closed <= plan.AsOf ? action.Closed : null })
                .Where(action => action.Closed is not { } day || Month.Of(day).AddMonths(Months) >= plan.Month)
                .OrderBy(action => action.Closed is not null).ThenBy(action => action.Due)
                .ThenBy(action => action.Id, StringComparer.Ordinal)
                .Select(action => (Action: action, Measure: plan.Definitions.Measures.FirstOrDefault(each => each.Id == action.Measure)))
                .Where(each => each.Measure is { Kind: MeasureKind.Proportion } measure && book.Whole(measure.Id) is not null)
                .Select(each => One(book, last, each.Action, each.Measure!)),
        ];
    }

    private static ActionFollowUp One(SeriesBook book, Month last, DepartmentAction action, Measure measure)
    {
        var opened = Month.Of(action.Opened);
        var before = Within(opened.AddMonths(-Months), opened.AddMonths(-1));
        var after = action.Closed is { } day && Month.Of(day) is var closed
            ? Within(closed.AddMonths(1), closed.AddMonths(Months)) : null;
        return new(action, measure, before, Sum(before), after, Sum(after));

        (Month From, Month To)? Within(Month from, Month to) =>
            (From: from < book.First ? book.First : from, To: to > last ? last : to) is var span && span.From <= span.To ? span : null;

        Count Sum((Month From, Month To)? span) =>
            span is var (from, to) ? book.Sum(book.Whole(measure.Id), from, to) : default;
    }
}
