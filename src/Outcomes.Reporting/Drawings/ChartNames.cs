using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Drawings;

/// <summary>The file names of a report's charts: no two are alike.</summary>
internal sealed class ChartNames
{
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);

    /// <summary>A name made of an id, with a number where another chart has it already.</summary>
    public string Unused(string id)
    {
        var slug = Encode.Slug(id);
        var name = slug;
        for (var i = 2; !_names.Add(name); i++)
            name = $"{slug}-{i}";
        return name;
    }
}
