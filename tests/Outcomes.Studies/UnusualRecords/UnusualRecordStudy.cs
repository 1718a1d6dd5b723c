using System.Globalization;
using Outcomes.CaseMix.UnusualRecords;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>
/// How many planted slips the rules find, and how many more the search for unusual records finds; and how often it is wrong.
/// </summary>
internal static class UnusualRecordStudy
{
    public const string AllKinds = "all";

    /// <summary>Departments of the study; those of the search for constants had seeds below <see cref="FirstSeed"/>.</summary>
    public const int FirstSeed = 50_000;

    private const int RivalDepartments = 4;

    /// <summary>Records a department, and how many departments; about 20,000 records a row, but for the smallest.</summary>
    public static (int Records, int Departments)[] Sizes { get; } = [(100, 100), (250, 80), (500, 40), (2_000, 10)];

    /// <param name="file">The file of rows.</param>
    /// <param name="rest">The share of the study's departments; none: all.</param>
    public static void Write(string file, string[] rest)
    {
        var share = rest is [var asked] ? double.Parse(asked, CultureInfo.InvariantCulture) : 1;
        File.WriteAllText(file, string.Concat(
            Rows(share, Console.Error.WriteLine).Select(row => row.Line + "\n").Prepend(UnusualRow.Header + "\n")));
    }

    public static IEnumerable<UnusualRow> Rows(double share, Action<string> progress, int firstSeed = FirstSeed)
    {
        foreach (var (export, fuller) in new[] { ("fuller", true), ("as invented", false) })
            foreach (var (records, departments) in Sizes)
            {
                progress($"{export}: {records} records");
                var found = Enumerable.Range(0, Math.Max(1, (int)(share * departments))).AsParallel().AsOrdered().WithDegreeOfParallelism(2)
                    .Select(number => Department(StudyDepartment.Make(records, fuller, firstSeed + number), records)).ToList();
                foreach (var row in Added("search", export, records, found))
                    yield return row;
            }
        foreach (var row in RivalRows(progress, firstSeed))
            yield return row;
    }

    // Forests take a hundred times as long as the search, so that a few departments have to do.
    private static IEnumerable<UnusualRow> RivalRows(Action<string> progress, int firstSeed)
    {
        progress("rivals");
        StudyDepartment[] departments = [.. Enumerable.Range(0, RivalDepartments).AsParallel().AsOrdered().WithDegreeOfParallelism(2)
            .Select(number => StudyDepartment.Make(500, true, firstSeed + number))];
        var rivals = new (string Name, Func<RecordColumn[], IEnumerable<(int, int, int)>> Find)[]
        {
            ("this search",
                columns => UnusualRecordSearch.Find(columns, Options(500)).Select(found => (found.Record, found.Column, found.Other))),
            ("the trainer's own score", Rivals.PcaScore),
            ("a forest a column", Rivals.Forests),
        };
        foreach (var (name, find) in rivals)
            foreach (var row in Added(name, "fuller", 500, departments.AsParallel().AsOrdered().WithDegreeOfParallelism(2)
                .Select(department => Count(department, find(department.Spoilt.Columns()))).ToList()))
                if (row.Kind is AllKinds or "none")
                    yield return row;
    }

    /// <summary>The search at the smallest size too, where a run leaves it off: the study says why.</summary>
    internal static UnusualRecordOptions Options(int records) =>
        new() { LeastRecords = records / 2, LeastKnown = Math.Min(records * 3 / 8, new UnusualRecordOptions().LeastKnown) };

    private static Tally[] Department(StudyDepartment department, int records) =>
        Count(department, UnusualRecordSearch.Find(department.Spoilt.Columns(), Options(records))
            .Select(found => (found.Record, found.Column, found.Other)));

    /// <summary>What became of each slip and of each clean record of a department.</summary>
    public static Tally[] Count(StudyDepartment department, IEnumerable<(int Record, int Column, int Other)> found)
    {
        var names = RecordFields.All;
        var bySearch = found.ToDictionary(each => department.Spoilt.Records[each.Record].RecordId,
            each => (names[each.Column].Name, names[each.Other].Name));
        var slips = department.Slips.Select(slip =>
        {
            var rules = department.Spoilt.Findings[slip.RecordId].Except(department.Clean.Findings[slip.RecordId]).Any();
            var seen = bySearch.TryGetValue(slip.RecordId, out var named);
            return new Tally(slip.Slip, rules, seen, seen && (slip.Fields.Contains(named.Item1) || slip.Fields.Contains(named.Item2)));
        });
        var planted = department.Slips.Select(slip => slip.RecordId).ToHashSet();
        var clean = department.Spoilt.Records.Where(record => !planted.Contains(record.RecordId)
            && !department.Dirty.Contains(record.RecordId))
            .Select(record => new Tally("", false, bySearch.ContainsKey(record.RecordId), false));
        return [.. slips, .. clean];
    }

    /// <summary>The tallies as rows, kind by kind and all together.</summary>
    public static IEnumerable<UnusualRow> Added(string part, string export, int records, IEnumerable<Tally[]> departments)
    {
        Tally[] all = [.. departments.SelectMany(tallies => tallies)];
        Tally[] clean = [.. all.Where(tally => tally.Kind == "")], slips = [.. all.Where(tally => tally.Kind != "")];
        yield return new(part, export, records, "none", "false alarms", clean.Count(tally => tally.Search), clean.Length);
        foreach (var kind in Slips.All.Select(slip => slip.Name).Prepend(AllKinds))
        {
            Tally[] some = kind == AllKinds ? slips : [.. slips.Where(tally => tally.Kind == kind)];
            if (some.Length == 0)
                continue;
            yield return new(part, export, records, kind, "rules", some.Count(tally => tally.Rules), some.Length);
            yield return new(part, export, records, kind, "search", some.Count(tally => tally.Search), some.Length);
            yield return new(part, export, records, kind, "rules or search", some.Count(tally => tally.Rules || tally.Search), some.Length);
            yield return new(part, export, records, kind, "named", some.Count(tally => tally.Named), some.Count(tally => tally.Search));
        }
    }
}

/// <summary>A record of the study: the slip planted in it (none: empty), and who found it.</summary>
internal sealed record Tally(string Kind, bool Rules, bool Search, bool Named);
