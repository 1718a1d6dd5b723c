using Outcomes.Synthetic;
using Outcomes.Synthetic.Export;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>A record with a planted slip.</summary>
internal sealed record Planted(string RecordId, string Slip, string[] Fields);

/// <summary>An invented department, judged without and with planted slips.</summary>
/// <param name="Clean">As it was invented.</param>
/// <param name="Spoilt">With the slips.</param>
/// <param name="Slips">What was planted.</param>
/// <param name="Dirty">Records that the invention itself spoils, to show what reading does; they count as neither.</param>
internal sealed record StudyDepartment(JudgedExport Clean, JudgedExport Spoilt, Planted[] Slips, HashSet<string> Dirty)
{
    private const double Share = 0.05;

    public static StudyDepartment Make(int records, bool fuller, int seed)
    {
        var folder = Directory.CreateTempSubdirectory("outcomes-study-").FullName;
        try
        {
            var options = new SynthesisOptions { Seed = seed, Procedures = records };
            SyntheticFolder.Write(options, "study", path => Open(folder, path));
            var draw = new Draws((ulong)seed * 2_654_435_761);
            var table = ExportTable.Parse(File.ReadAllText(Path.Combine(folder, SyntheticFolder.Procedures)));
            if (fuller)
                FullerExport.Add(table, draw);
            Prepare(folder, fuller);
            HashSet<string> dirty = [.. Department.Invent(options).Where(procedure => procedure.Planted is not null)
                .Select(procedure => procedure.RecordId)];
            File.WriteAllText(Path.Combine(folder, SyntheticFolder.Procedures), table.Text());
            var clean = JudgedExport.Of(folder);
            var spoilt = table.Copy();
            var slips = Plant(spoilt, dirty, fuller, draw, seed);
            File.WriteAllText(Path.Combine(folder, SyntheticFolder.Procedures), spoilt.Text());
            return new(clean, JudgedExport.Of(folder), slips, dirty);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // Kinds take turns, so that a rare one is not crowded out; each looks for a record in which it can be made.
    private static Planted[] Plant(ExportTable table, HashSet<string> dirty, bool fuller, Draws draw, int seed)
    {
        Slip[] kinds = [.. Studies.UnusualRecords.Slips.All.Where(slip => Studies.UnusualRecords.Slips.IsPossible(slip, fuller))];
        var rows = draw.Shuffle(table.Rows.Where(row => !dirty.Contains(row[0]))).ToList();
        var wanted = (int)Math.Round(Share * table.Rows.Count);
        List<Planted> planted = [];
        for (var turn = 0; planted.Count < wanted && turn < 10 * wanted; turn++)
        {
            var kind = kinds[(turn + seed) % kinds.Length];
            foreach (var row in rows)
                if (kind.Plant(table, row, draw) is { } fields)
                {
                    planted.Add(new(row[0], kind.Name, fields));
                    rows.Remove(row);
                    break;
                }
        }

        return [.. planted];
    }

    private static void Prepare(string folder, bool fuller)
    {
        var pipeline = Path.Combine(folder, SyntheticFolder.Pipeline);
        File.WriteAllLines(pipeline,
            File.ReadAllLines(pipeline).Where(line => !line.TrimStart().StartsWith("traces:", StringComparison.Ordinal)));
        if (!fuller)
            return;
        var mapping = Path.Combine(folder, "mappings", "demo.yaml");
        var lines = FullerExport.Columns.Select(column => $"  {column.Field}: {{column: \"{column.Heading}\"}}\n");
        File.WriteAllText(mapping,
            File.ReadAllText(mapping).Replace("columns:\n", "columns:\n" + string.Concat(lines), StringComparison.Ordinal));
    }

    private static StreamWriter Open(string folder, string path)
    {
        var full = Path.Combine(folder, path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        return new StreamWriter(full) { NewLine = "\n" };
    }
}
