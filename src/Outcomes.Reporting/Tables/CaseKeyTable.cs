using Outcomes.Measures.Review;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>case-key.csv</c>.</summary>
internal sealed record CaseKeyRow(string CaseId, string RecordId, CaseKind Kind);

/// <summary><c>case-key.csv</c>: the key of the case pack, which leads back to the notes.</summary>
public static class CaseKeyTable
{
    internal static readonly CsvTable<CaseKeyRow> Table =
        new CsvTable<CaseKeyRow>(
            "case-key.csv",
            "Case id and record id, so that the lead can find the notes; keep it apart from the cases",
            "One row is one case of cases.html.")
            .Word("case_id", "Id of the case, as cases.html prints it.", row => row.CaseId)
            .Word("record_id", "Key of the record.", row => row.RecordId)
            .Word("kind", "Why the case is reviewed: a tier of flags, learning, drawn at random, or data.", row => CaseKinds.Word(row.Kind),
                [.. Enum.GetValues<CaseKind>().Select(CaseKinds.Word).Distinct()])
            .With(schema => schema with { DepartmentOnly = true, Key = ["case_id"] });

    public static void Write(Func<string, string> place, IEnumerable<(string CaseId, string RecordId, CaseKind Kind)> rows) =>
        Table.Write(place, rows.Select(row => new CaseKeyRow(row.CaseId, row.RecordId, row.Kind)));
}
