using Outcomes.CaseMix;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// Whether a field of a case-mix model has come to be missing more or less often. The model's chances are then of other patients than those
/// it was fitted to: with 8 % of a field missing in the history and 60 % later, a missing level hid a doubling of the odds in 99 of 100
/// departments (docs/statistics/case-mix.md).
/// </summary>
public static class MovedFields
{
    private const int Reports = 6;

    // A tenth, as a whole number: no last bit decides.
    private const int Part = 10;

    /// <summary>
    /// A share missing has moved when it differs from the history's by ten points or more, and by more than 1.96 standard errors, each
    /// share's own: √(p(1−p)/n + p₀(1−p₀)/n₀). Never without records.
    /// </summary>
    /// <param name="missing">Records without the field.</param>
    /// <param name="of">Records.</param>
    /// <param name="missingBefore">Records of the history without it.</param>
    /// <param name="ofBefore">Records of the history.</param>
    public static bool HasMoved(long missing, long of, long missingBefore, long ofBefore)
    {
        if (of == 0 || ofBefore == 0 || Part * Math.Abs((missing * ofBefore) - (missingBefore * of)) < of * ofBefore)
            return false;
        var (share, before) = (missing / (double)of, missingBefore / (double)ofBefore);
        var error = Math.Sqrt((share * (1 - share) / of) + (before * (1 - before) / ofBefore));
        return Math.Abs(share - before) > Normal.TwoSided(0.95) * error;
    }

    /// <summary>
    /// The first report month with which a field of the model had moved in the six months that ended then; null while none has. Months are
    /// judged in order and each by itself, so that the answer is the same whichever month is looked at later. Of several, the first of the
    /// model.
    /// </summary>
    /// <param name="mix">The records and their model.</param>
    /// <param name="historyFrom">The first month of the history.</param>
    /// <param name="reportsFrom">The first report month.</param>
    /// <param name="last">The last report month.</param>
    public static MovedField? Find(FittedMix mix, Month historyFrom, Month reportsFrom, Month last)
    {
        ArgumentNullException.ThrowIfNull(mix);
        if (mix.Fit.Model is not { } model || last < reportsFrom)
            return null;
        var history = reportsFrom.MonthsSince(historyFrom);
        Covariate[] fields = [.. model.Fields.Select(field => mix.Data.Given.First(covariate => covariate.Field == field.Field))];
        var all = Months(mix, historyFrom, last, _ => true);
        long[][] missing = [.. fields.Select(field => Months(mix, historyFrom, last, record => !field.IsKnown(record)))];
        for (var end = history + 1; end <= all.Length; end++)
        {
            var six = Math.Max(0, end - Reports)..end;
            for (var at = 0; at < fields.Length; at++)
            {
                var (now, of, before, ofBefore) =
                    (missing[at][six].Sum(), all[six].Sum(), missing[at][..history].Sum(), all[..history].Sum());
                if (HasMoved(now, of, before, ofBefore))
                    return new(fields[at].Field, historyFrom.AddMonths(end - 1), now, of, before, ofBefore);
            }
        }

        return null;
    }

    private static long[] Months(FittedMix mix, Month from, Month to, Func<int, bool> counts)
    {
        var months = new long[to.MonthsSince(from) + 1];
        for (var record = 0; record < mix.Months.Length; record++)
            if (mix.Months[record] >= from && mix.Months[record] <= to && counts(record))
                months[mix.Months[record].MonthsSince(from)]++;
        return months;
    }
}
