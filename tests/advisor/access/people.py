"""How tests make people of each role."""

from django.contrib.auth.models import Group, User


def make_person(name="ann", *groups, **flags):
    person = User.objects.create(username=name, **flags)
    person.groups.set(Group.objects.filter(name__in=groups))
    return person
