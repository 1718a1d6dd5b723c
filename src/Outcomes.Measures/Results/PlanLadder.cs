using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>How records went through the plans, as one group of equal records.</summary>
/// <param name="Attempts">Plan and outcome of each attempt in order, such as <c>A-A-B+</c>: + success, - no success, ? unknown; null
/// without attempt rows.</param>
/// <param name="PlanA">not_used, succeeded, failed, abandoned, or null.</param>
/// <param name="PlanB">As for plan A.</param>
/// <param name="PlanC">As for plan A.</param>
/// <param name="PlanD">As for plan A.</param>
/// <param name="FinalPlan">A, B, C, D, woken, died, or null.</param>
/// <param name="Records">How many records.</param>
public sealed record PlanPath(
    string? Attempts, string? PlanA, string? PlanB, string? PlanC, string? PlanD, string? FinalPlan, long Records);

/// <summary>
/// One plan: records that started with it, used it, left it for another plan or an exit, and how many succeeded where that is known.
/// </summary>
public sealed record PlanUse(string Plan, long Started, long Used, long Left, long Succeeded, long OutcomeKnown);

/// <summary>Records that went from one plan to another, or to <c>woken</c> or <c>died</c>; a record counts once a step.</summary>
public sealed record PlanStep(string From, string To, long Records);

/// <summary>
/// Plans A (laryngoscopy), B (supraglottic), C (facemask) and D (front of neck) among emergency records of a period. The order
/// comes from attempt rows where a record has them, else from the plan fields (in the order of the letters, a return being seen
/// by a final plan before the last one used); where only the final plan is known, its use and success alone.
/// </summary>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Records">Emergency records.</param>
/// <param name="FromAttempts">Of them, read from attempt rows.</param>
/// <param name="FromPlanFields">Read from the plan fields.</param>
/// <param name="FromFinalPlan">Only the final plan is known.</param>
/// <param name="Unknown">Nothing is known about plans.</param>
/// <param name="Plans">A, B, C and D.</param>
/// <param name="Steps">Every step that was taken, by letter.</param>
public sealed record PlanLadder(Month From, Month To, long Records, long FromAttempts, long FromPlanFields, long FromFinalPlan,
    long Unknown, ImmutableArray<PlanUse> Plans, ImmutableArray<PlanStep> Steps)
{
    private const string Letters = "ABCD";

    public static PlanLadder Of(Month from, Month to, IEnumerable<PlanPath> paths)
    {
        var (attempts, fields, finals, unknown) = (0L, 0L, 0L, 0L);
        var started = new long[4];
        var used = new long[4];
        var left = new long[4];
        var succeeded = new long[4];
        var known = new long[4];
        var steps = new SortedDictionary<(string, string), long>();
        foreach (var path in paths)
        {
            var (basis, walk, outcomes) = Read(path);
            attempts += basis == Basis.Attempts ? path.Records : 0;
            fields += basis == Basis.Fields ? path.Records : 0;
            finals += basis == Basis.Final ? path.Records : 0;
            unknown += basis == Basis.Unknown ? path.Records : 0;
            for (var i = 0; i < 4; i++)
            {
                started[i] += basis != Basis.Final && walk.FirstOrDefault() == Letters[i..(i + 1)] ? path.Records : 0;
                used[i] += walk.Contains(Letters[i..(i + 1)]) ? path.Records : 0;
                known[i] += outcomes[i] is not null ? path.Records : 0;
                succeeded[i] += outcomes[i] is true ? path.Records : 0;
            }

            var taken = walk.Zip(walk.Skip(1)).Distinct().ToArray();
            foreach (var step in taken)
                steps[step] = steps.GetValueOrDefault(step) + path.Records;
            foreach (var plan in taken.Select(step => step.First).Distinct())
                left[Letters.IndexOf(plan, StringComparison.Ordinal)] += path.Records;
        }

        return new PlanLadder(from, to, attempts + fields + finals + unknown, attempts, fields, finals, unknown,
            [.. Letters.Select((letter, i) => new PlanUse(letter.ToString(), started[i], used[i], left[i], succeeded[i], known[i]))],
            [.. steps.Select(step => new PlanStep(step.Key.Item1, step.Key.Item2, step.Value))]);
    }

    private enum Basis
    {
        Unknown,
        Attempts,
        Fields,
        Final,
    }

    private static (Basis Basis, string[] Walk, bool?[] Succeeded) Read(PlanPath path)
    {
        string[] exit = path.FinalPlan is "woken" or "died" ? [path.FinalPlan] : [];
        string?[] fields = [path.PlanA, path.PlanB, path.PlanC, path.PlanD];
        var tried = Letters.Where((_, i) => fields[i] is not (null or "not_used")).Select(letter => letter.ToString()).ToArray();
        // Attempt rows that lack a plan which the plan fields say was used do not tell the whole walk.
        if (path.Attempts is { Length: > 0 } attempts && attempts.Chunk(2).All(attempt => Letters.Contains(attempt[0]))
            && tried.All(attempts.Contains))
        {
            var outcomes = Letters.Select(letter => attempts.Chunk(2).Where(attempt => attempt[0] == letter)
                .Select(attempt => attempt[1]).ToArray())
                .Select(signs => signs.Length == 0 ? (bool?)null : signs.Contains('+') ? true : signs.Contains('?') ? null : false);
            return (Basis.Attempts, [.. Changes(attempts.Chunk(2).Select(attempt => attempt[0].ToString())), .. exit], [.. outcomes]);
        }

        if (tried.Length > 0)
        {
            // A plan that succeeded last though a later letter was used too: the airway was held, then plan A or B was returned to.
            string[] back = path.FinalPlan is { Length: 1 } last && last != tried[^1] && tried.Contains(last) ? [last] : [];
            return (Basis.Fields, [.. tried, .. back, .. exit],
                [.. fields.Select(field => field switch { "succeeded" => true, "failed" or "abandoned" => false, _ => (bool?)null })]);
        }

        return path.FinalPlan is { Length: 1 } final
            ? (Basis.Final, [final], [.. Letters.Select(letter => letter == final[0] ? true : (bool?)null)])
            : (Basis.Unknown, [], new bool?[4]);
    }

    private static IEnumerable<string> Changes(IEnumerable<string> plans)
    {
        var before = "";
        foreach (var plan in plans)
        {
            if (plan != before)
                yield return plan;
            before = plan;
        }
    }
}
