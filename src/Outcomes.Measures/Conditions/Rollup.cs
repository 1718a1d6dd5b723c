using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures.Conditions;

/// <summary>A column of a record worked out from its attempt rows: missing where it has none.</summary>
/// <param name="Name">Its name in conditions.</param>
/// <param name="Title">Its heading for people.</param>
/// <param name="SqlType">What it holds.</param>
/// <param name="Aggregate">SQL over the attempt rows of one record.</param>
/// <param name="Columns">The attempt columns that it reads.</param>
internal sealed record Rollup(string Name, string Title, string SqlType, string Aggregate, ImmutableArray<Column> Columns);

internal static class Rollups
{
    /// <summary>
    /// The device passes the teeth, whether or not a tube is tried; rescue rows are numbered in the same sequence but are none.
    /// </summary>
    private const string Intubation = "technique IN ('direct', 'video', 'flexible_scope', 'via_sga')";

    private const string Success = "outcome = 'success'";

    private const string OtherPlan = "plan IN ('B', 'C', 'D')";

    /// <summary>Every rollup that the dictionary's attempt fields allow.</summary>
    public static IEnumerable<Rollup> Of(FieldDictionary dictionary)
    {
        var columns = dictionary.Of(FieldDictionary.Attempt)
            .Where(field => field.Name is not ("record_id" or "attempt_no"))
            .SelectMany(field => Column.Of(field)).ToImmutableArray();
        var byName = columns.ToDictionary(column => column.Name);
        foreach (var rollup in Counts())
            if (rollup.Reads.All(byName.ContainsKey))
                yield return new Rollup(rollup.Name, rollup.Title, rollup.Type, rollup.Sql, [.. rollup.Reads.Select(name => byName[name])]);
        foreach (var number in (int[])[1, 2])
            foreach (var column in columns)
                yield return new Rollup($"attempt{number}_{column.Name}", $"{column.Title}, attempt {number}", column.SqlType,
                    $"max(CASE WHEN attempt_no = {number} THEN {Quote.Name(column.Name)} END)", [column]);
    }

    private static IEnumerable<(string Name, string Title, string Type, string Sql, string[] Reads)> Counts()
    {
        yield return ("attempt_rows", "Attempts recorded", "INTEGER", "count(*)", []);
        yield return ("attempts_contiguous", "Attempts numbered without a gap", "BOOLEAN",
            "min(attempt_no) = 1 AND max(attempt_no) = count(*)", []);
        yield return ("intubation_attempts", "Intubation attempts, by the attempts", "INTEGER",
            WhereAllKnown(["technique"], $"count(*) FILTER (WHERE {Intubation})"), ["technique"]);
        yield return ("attempt_successes", "Successful intubation attempts", "INTEGER",
            WhereAllKnown(["technique", "outcome"], $"count(*) FILTER (WHERE {Intubation} AND {Success})"), ["technique", "outcome"]);
        foreach (var plan in "ABCD")
        {
            var name = $"plan_{char.ToLowerInvariant(plan)}";
            yield return ($"{name}_attempts", $"Attempts by plan {plan}", "INTEGER",
                WhereAllKnown(["plan"], $"count(*) FILTER (WHERE plan = '{plan}')"), ["plan"]);
            yield return ($"{name}_successes", $"Successful attempts by plan {plan}", "INTEGER",
                WhereAllKnown(["plan", "outcome"], $"count(*) FILTER (WHERE plan = '{plan}' AND {Success})"), ["plan", "outcome"]);
        }

        yield return ("attempt_path", "Plans in order of the attempts", "VARCHAR",
            "string_agg(coalesce(plan, '?') || CASE WHEN outcome = 'success' THEN '+' WHEN outcome IS NULL THEN '?' ELSE '-' END, "
                + "'' ORDER BY attempt_no)", ["plan", "outcome"]);
        yield return ("attempts_duration_s", "Duration of all attempts", "INTEGER",
            WhereAllKnown(["duration_s"], "sum(duration_s)"), ["duration_s"]);
        yield return ("other_plan_start_s", "Start of the first plan after A", "INTEGER",
            $"first(t_blade_in_s ORDER BY attempt_no) FILTER (WHERE {OtherPlan})",
            ["plan", "t_blade_in_s"]);
        // A mask ventilates from its start; whatever is put in place does so once it is.
        yield return ("other_plan_airway_s", "Airway by another plan than A", "INTEGER",
            $"first(t_blade_in_s + CASE WHEN technique = 'facemask' THEN 0 ELSE duration_s END ORDER BY attempt_no) FILTER "
                + $"(WHERE {OtherPlan} AND {Success})",
            ["plan", "outcome", "technique", "t_blade_in_s", "duration_s"]);
        yield return ("attempt_spo2_min", "Lowest SpO2 of the attempts", "INTEGER", "min(spo2_min)", ["spo2_min"]);
        yield return ("attempt_oesophageal", "Oesophageal intubation, by the attempts", "BOOLEAN",
            $"CASE WHEN count(*) FILTER (WHERE outcome = 'oesophageal') > 0 THEN true WHEN {AllKnown("outcome")} THEN false END",
            ["outcome"]);
        yield return ("success_within_two", "Success within two intubation attempts", "BOOLEAN", WithinTwo, ["technique", "outcome"]);
    }

    /// <summary>
    /// The second intubation attempt is the later of the two smallest numbers among intubation attempts. A success no later than
    /// that settles it; otherwise an attempt of unknown technique or outcome leaves it unknown.
    /// </summary>
    private static string WithinTwo =>
        $"CASE WHEN min(attempt_no) FILTER (WHERE {Intubation} AND {Success}) <= list_max(min(attempt_no, "
        + $"2) FILTER (WHERE {Intubation})) THEN true "
        + $"WHEN {AllKnown("technique", "outcome")} THEN false END";

    private static string WhereAllKnown(string[] columns, string value) => $"CASE WHEN {AllKnown(columns)} THEN {value} END";

    private static string AllKnown(params string[] columns) =>
        string.Join(" AND ", columns.Select(column => $"count({column}) = count(*)"));
}
