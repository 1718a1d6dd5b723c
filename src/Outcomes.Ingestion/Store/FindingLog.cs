namespace Outcomes.Ingestion.Store;

/// <summary>One finding on a cell or row, small enough to keep a million of them.</summary>
/// <param name="Row">0-based row in the source; -1 when it concerns the whole file.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="FileColumn">0-based column in the file; -1 when it concerns the whole row.</param>
/// <param name="Field">The field's name; empty for a whole row.</param>
/// <param name="Rule">What is wrong.</param>
/// <param name="Count">In how many cells, where one finding stands for all cells of a column.</param>
public readonly record struct CellFinding(int Row, int Line, int FileColumn, string Field, CellRule Rule, int Count = 1);

/// <summary>The cell findings of a source as a file.</summary>
public static class FindingLog
{
    public static void Write(string path, IReadOnlyCollection<CellFinding> findings)
    {
        using var writer = new BinaryWriter(new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16));
        writer.Write(findings.Count);
        foreach (var finding in findings)
        {
            writer.Write(finding.Row);
            writer.Write(finding.Line);
            writer.Write(finding.FileColumn);
            writer.Write(finding.Field);
            writer.Write((byte)finding.Rule);
            writer.Write(finding.Count);
        }
    }

    public static CellFinding[] Read(string path)
    {
        using var reader = new BinaryReader(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16));
        var findings = new CellFinding[reader.ReadInt32()];
        for (var i = 0; i < findings.Length; i++)
            findings[i] = new CellFinding(reader.ReadInt32(), reader.ReadInt32(), reader.ReadInt32(), string.Intern(reader.ReadString()),
                (CellRule)reader.ReadByte(), reader.ReadInt32());
        return findings;
    }
}
