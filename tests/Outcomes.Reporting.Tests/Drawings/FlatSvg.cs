using System.Xml.Linq;

namespace Outcomes.Tests.Reporting.Drawings;

/// <summary>A drawing whose marks have their own look again, in place of sharing it with their neighbours in a group.</summary>
internal static class FlatSvg
{
    public static XElement Parse(string svg)
    {
        var root = XElement.Parse(svg);
        foreach (var group in root.Descendants(root.Name.Namespace + "g").ToArray())
        {
            foreach (var mark in group.Elements())
                foreach (var attribute in group.Attributes().Where(each => mark.Attribute(each.Name) is null))
                    mark.SetAttributeValue(attribute.Name, attribute.Value);
            group.ReplaceWith(group.Elements());
        }

        return root;
    }
}
