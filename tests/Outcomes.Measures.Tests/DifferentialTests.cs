using System.Globalization;
using CsCheck;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>The packed counting of the engine against two slow and obvious ways of counting the same thing.</summary>
public sealed class DifferentialTests
{
    private sealed record Row(int Month, string? Place, int? Before, int? Lowest, bool? Brief, bool? Senior);

    private sealed record Oracle(Measure Measure, Func<Row, bool?> Eligible, Func<Row, bool?[]> Known, Func<Row, bool?> Met);

    /// <summary>Three-valued logic as the SQL standard (ISO/IEC 9075) defines it, written out by hand.</summary>
    private static readonly Oracle[] Oracles =
    [
        new(new Measure("drop", "") { Eligible = "spo2_pre >= 90", Met = "spo2_min < 90" },
            row => row.Before is { } b ? b >= 90 : null, row => [row.Lowest is null ? null : true],
            row => row.Lowest is { } l ? l < 90 : null),
        new(new Measure("both", "") { Eligible = "NOT team_brief", Met = "senior_present AND spo2_min < 90" },
            row => Not(row.Brief), row => [row.Senior, row.Lowest is null ? null : true],
            row => And(row.Senior, row.Lowest is { } l ? l < 90 : null)),
        new(new Measure("either", "")
        {
            Eligible = "team_brief OR spo2_pre < 85",
            Met = "senior_present OR spo2_min < 90",
            Settled = Settled.Any,
            Missing = MissingRule.NotDone
        },
            row => Or(row.Brief, row.Before is { } b ? b < 85 : null), row => [Or(row.Senior, row.Lowest is { } l ? l < 90 : null)],
            row => Or(row.Senior, row.Lowest is { } l ? l < 90 : null)),
        new(new Measure("done", "") { Eligible = "spo2_pre IS NOT NULL", Met = "team_brief", Missing = MissingRule.NotDone },
            row => row.Before is not null, row => [row.Brief], row => row.Brief),
    ];

    [Fact]
    public void Counts_are_those_of_three_valued_logic_worked_out_row_by_row()
    {
        string?[] places = ["icu", "ed", "ward", null];
        var place = Gen.Int[0, 3].Select(i => places[i]);
        var percent = Gen.Int[78, 100].Nullable();
        var yesNo = Gen.Bool.Nullable();
        Gen.Select(Gen.Int[0, 2], place, percent, percent, yesNo, yesNo,
            (month, where, before, lowest, brief, senior) => new Row(month, where, before, lowest, brief, senior))
            .Array[1, 200].Sample(Agree, iter: 12, threads: 1);
    }

    [Fact]
    public void Every_shipped_measure_is_counted_as_the_plain_query_with_its_printed_conditions_counts_it()
    {
        using var store = new Store().Add(Synthetic(3000), Attempts(3000));
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources,
            new EngineOptions { AsOf = new DateOnly(2026, 3, 31), Rules = RuleFile.Shipped });
        Assert.NotEmpty(engine.Judge());
        engine.SetAside(Enumerable.Range(0, 300).Select(i => new SetAside(0, false, i * 7)));
        var measures = MeasureCatalogue.Shipped.Where(measure => measure.Kind == MeasureKind.Proportion).ToArray();
        var counted = engine.Count(measures, ["location_type"]);
        var collected = measures.Where(measure => counted.NotCollected.All(item => item.Measure != measure.Id)).ToArray();
        Assert.True(collected.Length >= 40, $"only {collected.Length} measures are collected");
        foreach (var measure in collected)
        {
            var known = measure.Settled == Settled.Any ? $"({measure.Met}) IS NOT NULL" : Known(measure.Met);
            var rows = engine.Query($"""
                SELECT year(event_date), month(event_date), coalesce(location_type, '(missing)'),
                  count(*) FILTER (WHERE ({measure.Eligible}) AND {known} AND ({measure.Met})),
                  count(*) FILTER (WHERE ({measure.Eligible}) AND {(measure.Missing == MissingRule.NotDone ? "true" : known)}),
                  count(*) FILTER (WHERE ({measure.Eligible}) IS NULL {(measure.Missing == MissingRule.NotDone ? "" : $"OR (({measure.Eligible}) AND NOT ({known}))")})
                FROM records GROUP BY ALL
                """).Rows;
            var plain = rows.ToDictionary(row => (new Month(Whole(row[0]), Whole(row[1])), (string)row[2]!),
                row => new Count(Whole(row[3]), Whole(row[4]), Whole(row[5])));
            var packed = counted.Rows.Where(row => row.Measure == measure.Id && row.Stratum == "location_type")
                .ToDictionary(row => (row.Month, row.Level), row => row.Count);
            foreach (var (key, count) in plain)
                Assert.True(packed.GetValueOrDefault(key) == count, $"{measure.Id} {key}: {packed.GetValueOrDefault(key)} and {count}");
            Assert.All(packed.Keys, key => Assert.Contains(key, plain.Keys));
            var all = counted.Rows.Where(row => row.Measure == measure.Id && row.Stratum == CountRow.All)
                .Aggregate(default(Count), (sum, row) => sum + row.Count);
            Assert.Equal(plain.Values.Aggregate(default(Count), Count.Add), all);
            // Of the few invented children none has a tube's size.
            Assert.True(all.Eligible > 0 || measure.Id == "child_tube_size", measure.Id);
        }
    }

    [Fact]
    public void Records_worked_out_once_give_the_counts_and_values_of_records_worked_out_for_each_question()
    {
        using var store = new Store().Add(Synthetic(3000), Attempts(3000));
        var options = new EngineOptions { AsOf = new DateOnly(2026, 3, 31), Rules = RuleFile.Shipped };
        using var kept = Engine.Open(FieldDictionary.Shipped, store.Sources, options);
        using var fresh = Engine.Open(FieldDictionary.Shipped, store.Sources, options);
        string[] strata = ["location_type", "hour_band"];
        var measures = MeasureCatalogue.Shipped;
        kept.Check(measures, strata);
        kept.Keep(strata, most: 2999);
        Assert.False(kept.IsKept);
        foreach (var aside in (int[])[0, 7])
        {
            SetAside[] rows = [.. Enumerable.Range(0, 100).Select(i => new SetAside(0, false, (i * 11) + aside))];
            kept.SetAside(rows);
            fresh.SetAside(rows);
            Assert.False(kept.IsKept); // what was worked out knew nothing of these rows
            kept.Keep(strata, most: 3000);
            Assert.True(kept.IsKept);
            Assert.Equal(fresh.Count(measures, strata).Rows.AsEnumerable(), kept.Count(measures, strata).Rows);
            Assert.Equal(fresh.Values(measures, strata).Rows.AsEnumerable(), kept.Values(measures, strata).Rows);
        }
    }

    private static void Agree(Row[] rows)
    {
        var values = string.Join(", ", rows.Select(row =>
            $"(DATE '2026-0{row.Month + 1}-05', {Sql(row.Place is null ? null : $"'{row.Place}'")}, {Sql(row.Before)}, "
                + $"{Sql(row.Lowest)}, {Sql(row.Brief)}, {Sql(row.Senior)})"));
        using var store = new Store().Add($"SELECT event_date, CAST(p AS VARCHAR) AS location_type, "
            + $"CAST(b AS INTEGER) AS spo2_pre, CAST(l AS INTEGER) AS spo2_min, CAST(t AS BOOLEAN) AS team_brief, "
            + $"CAST(s AS BOOLEAN) AS senior_present FROM (VALUES {values}) v(event_date, p, b, l, t, s)");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        var found = engine.Count([.. Oracles.Select(oracle => oracle.Measure)], ["location_type"]).Rows
            .ToDictionary(row => (row.Measure, row.Month.Number - 1, row.Stratum, row.Level), row => row.Count);
        var expected = new Dictionary<(string, int, string, string), Count>();
        foreach (var oracle in Oracles)
            foreach (var row in rows)
                foreach (var (stratum, level) in new[] { ("all", "all"), ("location_type", row.Place ?? "(missing)") })
                {
                    var notDone = oracle.Measure.Missing == MissingRule.NotDone;
                    Add((oracle.Measure.Id, row.Month, stratum, level), Judge(oracle, row, notDone));
                    if (notDone)
                        Add((oracle.Measure.Id + ".known", row.Month, stratum, level), Judge(oracle, row, false));
                }

        Assert.Equal(expected.Where(pair => !pair.Value.IsEmpty).OrderBy(pair => pair.Key), found.OrderBy(pair => pair.Key));

        void Add((string, int, string, string) key, Count count) => expected[key] = expected.GetValueOrDefault(key) + count;
    }

    private static Count Judge(Oracle oracle, Row row, bool notDone) => oracle.Eligible(row) switch
    {
        false => default,
        null => new Count(0, 0, 1),
        true when oracle.Known(row).Any(known => known is null) => notDone ? new Count(0, 1, 0) : new Count(0, 0, 1),
        true => new Count(oracle.Met(row) == true ? 1 : 0, 1, 0),
    };

    private static bool? Not(bool? a) => a is null ? null : !a;

    private static bool? And(bool? a, bool? b) => a == false || b == false ? false : a == true && b == true ? true : null;

    private static bool? Or(bool? a, bool? b) => a == true || b == true ? true : a == false && b == false ? false : null;

    private static string Sql(object? value) =>
        value switch { null => "NULL", bool yes => yes ? "true" : "false", _ => Convert.ToString(value, CultureInfo.InvariantCulture)! };

    private static int Whole(object? value) => Convert.ToInt32(value, CultureInfo.InvariantCulture);

    /// <summary>Every name in a printed condition, found by its letters and not by the engine's parser.</summary>
    private static string Known(string condition)
    {
        var withoutTexts = string.Concat(condition.Split('\'').Where((_, i) => i % 2 == 0));
        var words = withoutTexts.Split([' ', '(', ')', ',', '<', '>', '=', '-', '+', '*', '/', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Where(word => char.IsLetter(word[0])
                && word is not ("and" or "or" or "not" or "in" or "between" or "is" or "null" or "true" or "false")).Distinct();
        // A condition that names no field, such as true, is known of every record.
        return string.Join(" AND ", words.Select(word => $"{word} IS NOT NULL").DefaultIfEmpty("true"));
    }

    /// <summary>Every field of the dictionary with values spread over its range, a tenth of the cells missing.</summary>
    private static string Synthetic(int rows) =>
        "SELECT 'r' || i AS record_id, DATE '2025-01-01' + CAST(hash(i) % 400 AS INTEGER) AS "
            + $"event_date{Columns(FieldDictionary.Procedure, "i")} FROM range({rows}) t(i)";

    private static string Attempts(int rows) =>
        "SELECT CAST(i AS INTEGER) AS \"row\", CAST(i + 2 AS INTEGER) AS line, 'r' || i AS record_id, "
            + $"CAST(n AS INTEGER) AS attempt_no{Columns(FieldDictionary.Attempt, "i * 10 + n")} FROM range({rows}) t(i), range(1, "
            + "4) u(n) WHERE hash(i * 7) % 10 > 2 AND hash(i * 5) % 3 + 1 >= n";

    private static string Columns(string table, string seed)
    {
        var columns = FieldDictionary.Shipped.Of(table)
            .Where(field => field.Type != FieldType.Text && field.Name is not ("event_date" or "attempt_no" or "macocha"))
            .SelectMany(field => Column.Of(field)).Select((column, k) => (column, k));
        return string.Concat(columns.Select(item => $", CASE WHEN hash({seed}, {item.k}) % 10 > 0 "
            + $"THEN {Value(item.column, $"(hash({seed}, {item.k + 1000}) % 1000)")} END AS {item.column.Name}"));
    }

    private static string Value(Column column, string random) => column.SqlType switch
    {
        "BOOLEAN" => $"{random} < 300",
        "VARCHAR" => $"list_extract([{string.Join(", ", column.Field.Allowed.Select(value => $"'{value}'"))}], "
            + $"CAST({random} * {random} // 1000 * {column.Field.Allowed.Length} // 1000 + 1 AS INTEGER))",
        _ => (column.Field.Plausible?.Minimum ?? 0, column.Field.Plausible?.Maximum ?? 100) is var (low, high)
            ? $"CAST({low} + {random} * ({high} - {low}) / 1000 AS {column.SqlType})"
            : "",
    };
}
